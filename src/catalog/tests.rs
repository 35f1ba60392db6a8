use super::*;
use crate::quantity::{Rational, Written};

fn catalog() -> Catalog {
    Catalog::built_in().expect("the shipped data is sound")
}

fn sourced<R: Row>(rows: &[R]) {
    assert!(!rows.is_empty());
    for row in rows {
        assert!(!row.key().is_empty() && row.source().len() > 4, "{}", row.key());
        assert_ne!(row.tag(), Tag::Own, "{} says how it is known", row.key());
        let practice = row.source().contains("common practice");
        assert!(!practice || row.tag() == Tag::CommonPractice, "{}", row.key());
    }
}

#[test]
fn every_shipped_row_has_a_source_and_a_tag() {
    let catalog = catalog();
    sourced(&catalog.scales.rows);
    sourced(&catalog.scales.refused);
    sourced(&catalog.lumber.eras);
    sourced(&catalog.lumber.tables);
    sourced(&catalog.stock.strips);
    sourced(&catalog.stock.sheets);
    sourced(&catalog.methods.rows);
    sourced(&catalog.objects.rows);
    sourced(&catalog.look.rows);
    sourced(&catalog.fits.fits);
    sourced(&catalog.fits.kerfs);
    sourced(&catalog.cars.rows);
    sourced(&catalog.clearances.outlines);
    sourced(&catalog.clearances.widenings);
    sourced(&catalog.clearances.groups);
    sourced(&catalog.clearances.rules);
    sourced(&catalog.clearances.plates);
    sourced(&catalog.lamps.lamps);
    sourced(&catalog.lamps.series);
    sourced(&catalog.lamps.ratings);
    sourced(&catalog.lamps.wires);
    sourced(&catalog.lamps.rules);
    sourced(&catalog.slips.slips);
    sourced(&catalog.slips.walls);
}

#[test]
fn every_table_of_lumber_belongs_to_an_era_and_gets_smaller() {
    let lumber = &catalog().lumber;
    for table in &lumber.tables {
        assert!(lumber.era(&table.era).is_ok(), "{}", table.era);
    }
    for era in &lumber.eras {
        for side in lumber.sides(&era.key) {
            assert!(side.actual.in_inches() <= side.nominal, "{} {side:?}", era.key);
        }
    }
}

#[test]
fn a_table_with_two_rows_of_one_key_is_refused() {
    let row = "[[object]]\nkey = \"door\"\nname = \"door\"\nsize = \"80 in\"\nspread = \"1 in\"\n";
    let error = Objects::read(&row.repeat(2)).unwrap_err();
    assert!(error.to_string().contains("two rows are called door"), "{error}");
}

#[test]
fn an_unknown_key_is_refused_with_its_line() {
    let error = Objects::read("[[object]]\nkey = \"door\"\nsise = \"80 in\"\n").unwrap_err();
    assert!(error.trouble.contains("line 3") && error.trouble.contains("sise"), "{error}");
}

#[test]
fn a_persons_own_row_takes_the_place_of_the_shipped_one() {
    let own = "[[object]]\nkey = \"house-door\"\nname = \"door next door\"\nsize = \"78 in\"\n\
               spread = \"1/4 in\"\n\n[[object]]\nkey = \"my-staff\"\nname = \"staff\"\n\
               size = \"6 ft\"\nspread = \"1/8 in\"\n";
    let before = catalog().objects.rows.len();
    let catalog = catalog().with_own("objects.toml", own).unwrap();
    assert_eq!(catalog.objects.rows.len(), before + 1);
    let door = catalog.objects.get("house-door").unwrap();
    assert_eq!((door.size.text(), door.tag), ("78 in", Tag::Own));
    assert!(catalog.with_own("nothing.toml", "").is_err());
}

#[test]
fn scales_by_name_carry_the_body_that_sets_them() {
    let scales = catalog().scales;
    let ratio = |text: &str| scales.find(text).unwrap().ratio;
    assert_eq!((ratio("HO").numerator(), ratio("ho").denominator()), (3048, 35));
    assert_eq!(ratio("NEM H0").numerator(), 87);
    assert_eq!((ratio("uk o").numerator(), ratio("UK O").denominator()), (1524, 35));
    assert_eq!(ratio("O scale").numerator(), 48);
    assert_eq!(ratio("no. 1").numerator(), 32);
    assert_eq!(scales.find(" nem  h0 ").unwrap().name, "NEM H0");
    let refused = scales.find("G").unwrap_err();
    assert!(refused.hint.contains("1:22.5") && refused.hint.contains("1:29"), "{refused:?}");
    assert!(scales.find("H0").unwrap_err().hint.contains("NEM H0 (1:87)"));
    assert!(scales.find("0").unwrap_err().hint.contains("NEM 0 (1:45)"));
    assert!(scales.find("HOn4").unwrap_err().hint.contains("HOn3"));
}

#[test]
fn scales_by_ratio_are_exact() {
    let scales = catalog().scales;
    let found = |text: &str| {
        let scale = scales.find(text).unwrap_or_else(|stop| panic!("{stop}"));
        (scale.name, scale.ratio.numerator(), scale.ratio.denominator())
    };
    for text in ["1:48", "1/48", "48", " 1 : 48 "] {
        assert_eq!(found(text), ("1:48".to_owned(), 48, 1), "{text}");
    }
    assert_eq!(found("1:87.1"), ("1:87.1".to_owned(), 871, 10));
    assert_eq!(found("22.5").1, 45);
    for text in ["3.5 mm/ft", "3.5 mm to the foot", "3.5mm per foot"] {
        assert_eq!((found(text).1, found(text).2), (3048, 35), "{text}");
    }
    assert_eq!(found("1/4 in/ft").1, 48);
    assert_eq!(found("1/4\"=1'").1, 48);
    for text in ["1:0", "0:1", "-48", "1:abc", "0 mm/ft", "abc/ft", "", "1:", ":"] {
        assert!(scales.find(text).is_err(), "{text}");
    }
}

#[test]
fn a_year_has_its_eras() {
    let lumber = &catalog().lumber;
    let eras = |year| -> Vec<String> {
        lumber.eras_of_year(year).iter().map(|era| era.key.clone()).collect()
    };
    assert_eq!(eras(1880), ["full-dimension"]);
    assert_eq!(eras(1910), ["to-1924"]);
    assert_eq!(eras(1935), ["1924-1969"]);
    assert_eq!(eras(1965), ["1924-1969", "ps20-dry", "ps20-green"]);
    assert_eq!(eras(1980), ["ps20-dry", "ps20-green"]);
    assert!(lumber.era("ps20").unwrap_err().hint.contains("ps20-dry"));
    assert!(lumber.actual("30x30".parse().unwrap(), "ps20-dry").is_err());
    assert!("2 by 4".parse::<lumber::Nominal>().is_err());
}

#[test]
fn a_method_is_worth_its_fixed_and_its_relative_part() {
    use crate::quantity::PrototypeLength;
    let catalog = catalog();
    let cloth = catalog.methods.get("cloth-tape").unwrap();
    let sigma = cloth.sigma(PrototypeLength::inches(1200.0)).in_inches();
    assert!((sigma - (0.25_f64 + 1.44).sqrt()).abs() < 1e-12);
    assert!(
        (catalog.methods.get("pacing").unwrap().sigma(PrototypeLength::feet(100.0)).in_feet()
            - 2.0)
            .abs()
            < 1e-12
    );
}

#[test]
fn a_strip_is_never_wider_than_its_table() {
    let stock = &catalog().stock;
    let text: Vec<&str> = stock.strips.iter().map(|row| Written::text(&row.thickness)).collect();
    assert!(text.contains(&"1/64 in") && text.contains(&"0.4 mm") && text.contains(&"0.010 in"));
    assert!(stock.strips.iter().all(|row| row.thickness.exact().in_inches() < Rational::whole(1)));
}
