//! Sizes survive the way to the model and back.

use proptest::prelude::*;
use scantling::bench::{Ask, Given, answer};
use scantling::catalog::Catalog;
use scantling::quantity::{
    Exact, Model, Notation, Prototype, PrototypeLength, Ratio, Rational, Reading, Scale, parse,
    parse_stated,
};

fn scale() -> impl Strategy<Value = Scale> {
    (1_u64..5000, 1_u64..200)
        .prop_map(|(above, below)| Scale::new("any", Ratio::new(above, below).expect("above zero")))
}

proptest! {
    #[test]
    fn there_and_back_is_exact(scale in scale(), above in -1_000_000_i128..1_000_000, below in 1_i128..1000) {
        let full: Exact<Prototype> = Exact::inches(Rational::new(above, below).expect("below is above zero"));
        let model: Exact<Model> = scale.reduce_exact(full).expect("numbers of ordinary size");
        prop_assert_eq!(scale.enlarge_exact::<Prototype>(model), Some(full));
        let float = scale.reduce(full.length());
        prop_assert!((float.in_inches() - model.length().in_inches()).abs() <= 1e-12 * float.in_inches().abs());
    }

    #[test]
    fn the_nearest_stock_is_first_and_every_error_is_told_twice_alike(scale in scale(), inches in 1_u32..600) {
        let catalog = Catalog::built_in().expect("the shipped data is sound");
        let given = Given::Full(parse_stated(&format!("{inches} in"), &Reading::default()).expect("a length"));
        let bench = answer(&Ask { given, scale: scale.clone(), to: None }, &catalog).expect("an answer").value;
        let off: Vec<f64> = bench.stock.iter().map(|near| near.miss.model.abs().in_inches()).collect();
        prop_assert!(off.is_sorted());
        for near in &bench.stock {
            let full = near.miss.model.in_inches() * scale.ratio.value();
            prop_assert!((near.miss.full.in_inches() - full).abs() <= 1e-9 * full.abs().max(1.0));
        }
    }
}

/// Prints how many conversions a second one core makes; it asserts no time.
/// Run it with `cargo test --release --test properties -- --ignored --nocapture`.
#[test]
#[ignore = "prints a speed"]
fn speed_of_conversions() {
    const TIMES: u32 = 500_000;
    let scale = Scale::new("HO", Ratio::new(3048, 35).expect("above zero"));
    let reading = Reading::default();
    let time = |name: &str, work: &dyn Fn(u32) -> f64| {
        let start = std::time::Instant::now();
        let sum: f64 = (0..TIMES).map(work).sum();
        let rate = f64::from(TIMES) / start.elapsed().as_secs_f64();
        println!("{name}: {rate:.0} a second (sum {sum:.3})");
    };
    let texts = ["12' 6 1/2\"", "3.81 m", "8 ft 3 in", "150.5\"", "3/16 in"];
    let text = |n: u32| texts[n as usize % texts.len()];
    let read = |n| parse::<Prototype>(text(n), &reading).expect("a length");
    time("full size to model, floating point", &|n| {
        scale.reduce(PrototypeLength::inches(f64::from(n))).in_millimetres()
    });
    time("full size to model, exact", &|n| {
        let full: Exact<Prototype> = Exact::inches(Rational::whole(i64::from(n)));
        scale.reduce_exact(full).expect("small").length().in_millimetres()
    });
    time("text to model, floating point", &|n| scale.reduce(read(n).length()).in_millimetres());
    time("text to exact model to text", &|n| {
        let model = scale.reduce_exact(read(n).exact()).expect("small");
        Notation::HUNDREDTHS.show(&model).len() as f64
    });
}
