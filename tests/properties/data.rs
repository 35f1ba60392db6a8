//! Every file of `data/` stands alone: it loads, each row has a source and says
//! how it is known, and none is there twice.

use std::path::Path;

use scantling::catalog::Catalog;

fn text(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("data").join(name);
    std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{name}: {error}"))
}

#[test]
fn every_file_loads_alone_over_the_built_in_ones() {
    for name in Catalog::FILES {
        let catalog = Catalog::built_in().expect("the shipped data is sound");
        let again = catalog.with_own(name, &text(name)).unwrap_or_else(|error| panic!("{error}"));
        let count = |catalog: &Catalog| catalog.scales.rows.len() + catalog.stock.sheets.len();
        assert_eq!(count(&again), count(&Catalog::built_in().expect("sound")), "{name}");
    }
}

#[test]
fn every_row_has_a_source_and_a_tag() {
    for name in Catalog::FILES {
        let text = text(name);
        let rows: Vec<&str> = text.split("\n[[").skip(1).collect();
        assert!(!rows.is_empty(), "{name}");
        for row in rows {
            for key in ["\nsource = \"", "\ntag = \""] {
                assert_eq!(row.matches(key).count(), 1, "{name}: {row}");
            }
        }
    }
}

#[test]
fn a_row_written_twice_is_refused() {
    for name in Catalog::FILES {
        let catalog = Catalog::built_in().expect("the shipped data is sound");
        let text = text(name);
        let (_, rows) = text.split_once("\n[[").unwrap_or_default();
        let first = rows.split("\n[[").next().unwrap_or_default();
        let twice = format!("{text}\n[[{first}\n");
        let error = catalog.with_own(name, &twice).expect_err(name);
        assert!(error.trouble.contains("two rows"), "{name}: {error}");
    }
}
