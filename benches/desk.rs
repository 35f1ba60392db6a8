//! What is done at every key: a length read, shown and converted.

use criterion::{Criterion, criterion_group, criterion_main};
use scantling::bench::{Ask, Desk, Given, Look, SUMS, answer, ask};
use scantling::quantity::{Notation, Prototype, Reading, Written, parse, parse_stated};
use scantling_benches::catalog;
use std::hint::black_box;

const LENGTHS: [&str; 6] =
    ["12'-6 3/8\"", "150 1/2 in", "3.82 m", "0.0625 in", "3812 mm", "7 chains"];

fn notation(c: &mut Criterion) {
    let reading = Reading::default();
    let read = |text: &str| parse::<Prototype>(text, &reading);
    let known: Vec<Written<Prototype>> =
        LENGTHS.iter().filter_map(|text| read(text).ok()).collect();
    assert!(known.len() > 4, "most of the lengths are read");
    c.bench_function("six lengths read", |b| {
        b.iter(|| LENGTHS.iter().filter(|text| read(black_box(text)).is_ok()).count());
    });
    c.bench_function("the same shown in sixteenths", |b| {
        b.iter(|| {
            let length = |size: &Written<Prototype>| Notation::BUILDING.show(&size.exact()).len();
            black_box(&known).iter().map(length).sum::<usize>()
        });
    });
}

fn conversion(c: &mut Criterion) {
    let catalog = catalog();
    let scale = catalog.scales.find("1:48").expect("a ratio is a scale");
    let said = parse_stated("12'-6 3/8\" ± 1/4 in", &Reading::default()).expect("a length");
    let ask = Ask { given: Given::Full(said), scale, to: catalog.scales.find("HO").ok() };
    c.bench_function("one length, everything about it", |b| b.iter(|| answer(&ask, &catalog)));
}

/// The field of the desk book: a sum of each subject, asked whole.
fn book(c: &mut Criterion) {
    let catalog = catalog();
    let desk = Desk {
        scale: catalog.scales.find("HO").expect("HO"),
        catalog: &catalog,
        to: None,
        year: Some(1926),
        model: false,
        unit: None,
        look: Look::default(),
    };
    for sum in SUMS {
        c.bench_function(&format!("asked: {}", sum.key), |b| b.iter(|| ask(sum.example, &desk)));
    }
    c.bench_function("asked: 12 ft 6 - 2 * 7 1/2 in", |b| {
        b.iter(|| ask(black_box("12 ft 6 - 2 * 7 1/2 in"), &desk));
    });
}

criterion_group!(benches, notation, conversion, book);
criterion_main!(benches);
