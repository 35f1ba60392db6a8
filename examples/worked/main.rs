//! Prints what the building of a job comes to, one line a value:
//! `part<TAB>field<TAB>value`.
fn main() {
    let path = std::env::args().nth(1).unwrap_or_default();
    let text = std::fs::read_to_string(&path).unwrap_or_default();
    let job: scantling::job::Job = match toml::from_str(&text) {
        Ok(j) => j,
        Err(e) => {
            eprintln!("{e}");
            std::process::exit(1)
        }
    };
    let catalog = scantling::catalog::Catalog::built_in().unwrap();
    let plan = scantling::plan::plan(&job, &catalog);
    for f in &plan.findings {
        println!("{:?} {} {}", f.subject, f.message, f.hint);
    }
    match plan.building {
        Ok(b) => {
            println!("{:?}", b.footprint(scantling::job::place::Counts::All));
            for w in &b.walls {
                for l in &w.layers {
                    println!(
                        "{} {:?} {:.4} thick {} holes {}",
                        l.id,
                        l.role,
                        l.length().length.in_inches(),
                        l.full,
                        l.holes.len()
                    );
                }
            }
            for p in &b.planes {
                println!(
                    "{}/{} eave {:.4} ridge {:.4} slope {:.4} cut {:?}",
                    p.body,
                    p.over,
                    p.eave.length.in_inches(),
                    p.ridge.length.in_inches(),
                    p.slope.length.in_inches(),
                    p.cut
                );
            }
            for m in &b.members {
                println!(
                    "{} {} {} {:.4} {:?}",
                    m.body,
                    m.name,
                    m.number,
                    m.length.length.in_inches(),
                    m.axis
                );
            }
        }
        Err(s) => println!("{s}"),
    }
}
