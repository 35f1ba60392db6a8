//! The whole plan of each built-in job, and its stages.

use criterion::{Criterion, criterion_group, criterion_main};
use scantling::building::Scheme;
use scantling::job::demo::DEMOS;
use scantling::{compress, elevation, plan, survey};
use scantling_benches::{catalog, document};

fn stages(c: &mut Criterion) {
    let catalog = catalog();
    let mut group = c.benchmark_group("job");
    group.sample_size(10);
    for demo in DEMOS {
        let document = document(demo.name, demo.text, &catalog);
        let job = document.job();
        group.bench_function(format!("{}/read", demo.name), |b| {
            b.iter(|| self::document(demo.name, demo.text, &catalog));
        });
        group.bench_function(format!("{}/survey", demo.name), |b| {
            b.iter(|| survey::run(job, &catalog));
        });
        let found = survey::run(job, &catalog).value;
        let faces = elevation::lay_out(job, &found).expect("the faces stand").value;
        let scheme = Scheme::of(job, &found, &faces).value;
        let scale = catalog.scales.find(&job.about.scale).expect("a scale");
        group.bench_function(format!("{}/compress", demo.name), |b| {
            b.iter(|| compress::run(job, &catalog, (&faces, &scheme), &scale));
        });
        group.bench_function(format!("{}/whole plan", demo.name), |b| {
            b.iter(|| plan::plan(job, &catalog));
        });
    }
    group.finish();
}

criterion_group!(benches, stages);
criterion_main!(benches);
