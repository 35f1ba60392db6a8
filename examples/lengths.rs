//! Lengths that know their space: read as people write them, reduced by a
//! scale, written out again.
//!
//! `cargo run --example lengths`

use std::error::Error;

use scantling::catalog::Catalog;
use scantling::quantity::{Prototype, Reading, Written, parse};

fn main() -> Result<(), Box<dyn Error>> {
    let catalog = Catalog::built_in()?;
    let scale = catalog.scales.find("HO")?;
    for text in ["12' 6 1/2\"", "150.5 in", "3.81 m"] {
        let full: Written<Prototype> = parse(text, &Reading::default())
            .map_err(|error| format!("{text}: {} {}", error.message, error.hint))?;
        let model = scale.reduce(full.length());
        println!("{text} is {:.2} mm at {scale}", model.in_millimetres());
    }
    // A full-size length and a model length do not add up: it does not compile.
    Ok(())
}
