//! Readings -> dimensions: the least squares alone, and whole notes with their
//! search for blunders.

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use scantling::job::document::Document;
use scantling::solve::least_squares::{Observation, Problem};
use scantling::survey;
use scantling_benches::{Chance, catalog, document};

/// Differences of unknowns, each with one of the `near` that follow it, and a
/// quarter of them read alone.
fn network(observations: usize, unknowns: usize, near: usize) -> Problem {
    let mut chance = Chance::new(1);
    let row = |at: usize, chance: &mut Chance| {
        let one = at % unknowns;
        let other = (one + 1 + chance.below(near)) % unknowns;
        let alone = at < unknowns / 4 || one == other;
        let terms = if alone { vec![(one, 1.0)] } else { vec![(one, -1.0), (other, 1.0)] };
        Observation { terms, value: chance.between(0.0, 1.0), sigma: 0.5 }
    };
    let observations = (0..observations).map(|at| row(at, &mut chance)).collect();
    Problem { unknowns, observations, ..Problem::default() }
}

/// Every row speaks of every unknown.
fn dense(observations: usize, unknowns: usize) -> Problem {
    let mut chance = Chance::new(2);
    let mut row = || Observation {
        terms: (0..unknowns).map(|at| (at, chance.between(-1.0, 1.0))).collect(),
        value: 1.0,
        sigma: 0.5,
    };
    let observations = (0..observations).map(|_| row()).collect();
    Problem { unknowns, observations, ..Problem::default() }
}

fn adjustment(c: &mut Criterion) {
    let mut group = c.benchmark_group("adjust");
    let cases = [
        ("30 observations", network(30, 10, 3)),
        ("1,000 of 300, neighbours", network(1000, 300, 4)),
        ("1,000 of 300, anything with anything", network(1000, 300, 299)),
        ("1,000 of 300, every row full", dense(1000, 300)),
        ("10,000 of 2,000, neighbours", network(10_000, 2000, 4)),
    ];
    group.sample_size(20);
    for (name, problem) in cases {
        group.bench_function(name, |b| b.iter(|| problem.solve()));
    }
    group.finish();
}

/// The triangle alone by a library's dense reflections: a yardstick for full
/// rows. Redundancies and covariances are not in it.
fn yardstick(c: &mut Criterion) {
    let problem = dense(1000, 300);
    let matrix = nalgebra::DMatrix::from_fn(1000, 300, |i, j| {
        problem.observations[i].terms[j].1 / problem.observations[i].sigma
    });
    let mut group = c.benchmark_group("yardstick");
    group.sample_size(20);
    group.bench_function("nalgebra QR, 1,000 of 300", |b| b.iter(|| matrix.clone().qr()));
    group.finish();
}

/// Full rows, the worst there is: linear in the observations, cubic in the
/// unknowns.
fn growth(c: &mut Criterion) {
    let mut group = c.benchmark_group("growth");
    group.sample_size(10);
    for observations in [10, 30, 100, 300, 1000] {
        let problem = dense(observations, 10);
        group.throughput(Throughput::Elements(observations as u64));
        group.bench_with_input(
            BenchmarkId::new("observations of 10", observations),
            &problem,
            |b, p| b.iter(|| p.solve()),
        );
    }
    for unknowns in [10, 30, 100, 300] {
        let problem = dense(1000, unknowns);
        group.throughput(Throughput::Elements(unknowns as u64));
        group.bench_with_input(
            BenchmarkId::new("unknowns in 1,000", unknowns),
            &problem,
            |b, p| {
                b.iter(|| p.solve());
            },
        );
    }
    group.finish();
}

/// Notes of one wall: stations along it, each read twice from the corner and
/// once from its neighbour.
fn notes(readings: usize) -> Document {
    let mut text = String::from("[job]\nname = \"made up\"\nscale = \"1:48\"\n");
    let stations = (readings / 3).max(1);
    for at in 1..=stations {
        text += &format!("[[dimension]]\nname = \"s{at}\"\n");
    }
    let mut chance = Chance::new(3);
    for at in 0..readings {
        let (station, kind) = (at % stations + 1, at / stations);
        let (of, size) = match kind {
            0 | 1 => (format!("s{station}"), 60 * station),
            _ if station == 1 => ("s1".to_owned(), 60),
            _ => (format!("s{station} - s{}", station - 1), 60),
        };
        let value = size as f64 + chance.between(-0.3, 0.3);
        text += &format!(
            "[[reading]]\nid = \"r{at}\"\nof = \"{of}\"\nvalue = \"{value:.3} in\"\n\
             sigma = \"0.25 in\"\nmethod = \"tape\"\n"
        );
    }
    document("made up", &text, &catalog())
}

fn whole_notes(c: &mut Criterion) {
    let catalog = catalog();
    let mut group = c.benchmark_group("notes");
    group.sample_size(10);
    for readings in [30, 100, 300, 1000] {
        let document = notes(readings);
        group.bench_function(BenchmarkId::from_parameter(readings), |b| {
            b.iter(|| survey::run(document.job(), &catalog));
        });
    }
    group.finish();
}

criterion_group!(benches, adjustment, yardstick, growth, whole_notes);
criterion_main!(benches);
