//! Sticks and sheets: parts two to five to a stick, where packing is hard, and
//! walls and roof pieces; within the steps of the quick answer, sticks also to
//! the proof or 20 million steps.

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use scantling::solve::{sheets, sticks};
use scantling_benches::Chance;

/// Posts, braces and trim in half thou, from 24 in sticks, kerf 15 thou.
fn framing(lengths: usize) -> sticks::Problem {
    let mut chance = Chance::new(4);
    let part = |chance: &mut Chance| sticks::Part {
        length: 8000 + 10 * chance.below(1600) as i64,
        quantity: 1 + chance.below(6) as u32,
    };
    sticks::Problem {
        stock: vec![sticks::Stock { length: 47_500, cost: 1, supply: None }],
        parts: (0..lengths).map(|_| part(&mut chance)).collect(),
        kerf: 30,
    }
}

/// Walls and roof pieces in half thou, from 4 x 24 in sheets.
fn walls(parts: usize) -> sheets::Problem {
    let mut chance = Chance::new(5);
    let part = |chance: &mut Chance| sheets::Part {
        width: 1000 + 50 * chance.below(100) as i64,
        height: 1000 + 50 * chance.below(200) as i64,
        quantity: 1 + chance.below(3) as u64,
        may_turn: false,
    };
    sheets::Problem {
        sheets: vec![sheets::Sheet { width: 8000, height: 48_000, cost: 1, supply: None }],
        parts: (0..parts).map(|_| part(&mut chance)).collect(),
        gap: 30,
        margin: 0,
    }
}

fn stick_layouts(c: &mut Criterion) {
    let mut group = c.benchmark_group("sticks");
    group.sample_size(10);
    for (name, steps) in [("quick", 2_000_000), ("20 million steps", 20_000_000)] {
        for lengths in [5, 20, 60] {
            let problem = framing(lengths);
            let budget = sticks::Budget::steps(steps);
            group.bench_function(format!("{name}/{lengths} lengths"), |b| {
                b.iter(|| sticks::solve(&problem, &budget, &mut |_| sticks::Control::Continue));
            });
        }
    }
    group.finish();
}

fn sheet_layouts(c: &mut Criterion) {
    let mut group = c.benchmark_group("sheets");
    group.sample_size(10);
    let methods =
        [("laser", sheets::Method::Laser), ("knife", sheets::Method::Knife { stages: None })];
    for (name, method) in methods {
        for parts in [10, 40] {
            let problem = walls(parts);
            let budget = sheets::Budget::steps(400_000);
            group.bench_function(format!("{name}/{parts} parts, quick"), |b| {
                let mut watch = |_: &_| sheets::Control::Continue;
                b.iter(|| sheets::solve(&problem, method, &budget, &mut watch));
            });
        }
    }
    group.finish();
}

/// Parts of up to 60 lengths, to the first plan and its bound.
fn growth(c: &mut Criterion) {
    let mut group = c.benchmark_group("growth");
    group.sample_size(10);
    for parts in [10, 100, 1000, 10_000] {
        let mut problem = framing(60.min(parts));
        let each = (parts / problem.parts.len()) as u32;
        problem.parts.iter_mut().for_each(|part| part.quantity = each);
        let budget = sticks::Budget::steps(2_000_000);
        group.throughput(Throughput::Elements(parts as u64));
        group.bench_function(BenchmarkId::new("parts to sticks", parts), |b| {
            b.iter(|| sticks::solve(&problem, &budget, &mut |_| sticks::Control::Continue));
        });
    }
    for parts in [10, 100, 1000] {
        let problem = walls(parts);
        let budget = sheets::Budget::steps(400_000);
        group.throughput(Throughput::Elements(parts as u64));
        group.bench_function(BenchmarkId::new("shapes to sheets", parts), |b| {
            let mut watch = |_: &_| sheets::Control::Continue;
            b.iter(|| sheets::solve(&problem, sheets::Method::Laser, &budget, &mut watch));
        });
    }
    group.finish();
}

criterion_group!(benches, stick_layouts, sheet_layouts, growth);
criterion_main!(benches);
