//! Prints what the building of a job comes to, one line a value:
//! `part<TAB>field<TAB>value`.
//!
//! ```text
//! cargo run --release --example worked -- JOB
//! ```
//!
//! Parts are called `body/wall/kind`; parts alike are one set, numbered from
//! the longest, and a name without a number is the whole group. Fields end in
//! their unit: `length_full_in` at full size, `length_in` on the model, and
//! `_mm` in both where the job is metric.

mod values;

use std::process::ExitCode;

use scantling::catalog::Catalog;
use scantling::job::open::{Wanted, read};

fn main() -> ExitCode {
    let Some(job) = std::env::args().nth(1) else {
        eprintln!("which job? cargo run --release --example worked -- JOB");
        return ExitCode::FAILURE;
    };
    match worked(&job) {
        Ok(lines) => {
            lines.iter().for_each(|line| println!("{line}"));
            ExitCode::SUCCESS
        }
        Err(trouble) => {
            eprintln!("{trouble}");
            ExitCode::FAILURE
        }
    }
}

fn worked(job: &str) -> Result<Vec<String>, String> {
    let own = Catalog::built_in().map_err(|error| error.to_string())?;
    let read = read(&Wanted::named(job), &own).map_err(|stop| stop.to_string())?;
    values::of(read.document.job(), &read.catalog)
}
