//! From a job to its parts, without the terminal: what `scantling takeoff`
//! prints, as values.
//!
//! `cargo run --example parts -- river-cannery`

use std::error::Error;

use scantling::catalog::Catalog;
use scantling::job::open::{Wanted, read};
use scantling::plan::plan;

fn main() -> Result<(), Box<dyn Error>> {
    let named = std::env::args().nth(1).unwrap_or_else(|| "grain-store".to_owned());
    let catalog = Catalog::built_in()?;
    let opened = read(&Wanted::named(&named), &catalog).map_err(|stop| stop.told())?;
    let plan = plan(opened.document.job(), &opened.catalog);
    let takeoff = plan.takeoff.map_err(|stop| stop.told())?;
    for part in takeoff.parts.iter().take(20) {
        let inches = part.model_length.in_inches();
        println!("{:>4} x {:<24} {inches:.3} in", part.count, part.label);
    }
    println!("{} rows in all; {} findings", takeoff.parts.len(), plan.findings.len());
    Ok(())
}
