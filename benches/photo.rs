//! Marks on a picture -> lengths: the adjustment alone, and with the 2,000
//! draws behind its intervals, for every photograph of the built-in jobs.

use criterion::{Criterion, criterion_group, criterion_main};
use scantling::job::demo::DEMOS;
use scantling::photo::from_job::shot;
use scantling::photo::lengths::Effort;
use scantling_benches::{catalog, document};

fn photographs(c: &mut Criterion) {
    let catalog = catalog();
    let mut group = c.benchmark_group("photo");
    group.sample_size(10);
    for demo in DEMOS {
        let document = document(demo.name, demo.text, &catalog);
        for photo in document.job().photos.iter().filter(|photo| !photo.rects.is_empty()) {
            for (name, draws) in [("adjusted", 0), ("2,000 draws", 2000)] {
                let effort = Effort { draws, ..Effort::default() };
                group.bench_function(format!("{}/{}/{name}", demo.name, photo.id), |b| {
                    b.iter(|| shot(photo, effort));
                });
            }
        }
    }
    group.finish();
}

criterion_group!(benches, photographs);
criterion_main!(benches);
