//! From parts to the bytes of a PDF.

use criterion::{Criterion, criterion_group, criterion_main};
use scantling::drawing::shape::{Anchor, Area, Drawing, Layer, Point, mm};
use scantling::drawing::{Figure, Paper, PrintCheck, Setup, Template, TemplateKind, page};
use scantling::job::demo::DEMOS;
use scantling::plan;
use scantling::report::Seen;
use scantling::report::templates::{Wish, pages};
use scantling::writers::pdf;
use scantling_benches::{catalog, document};

/// Two hundred parts with their labels, of fifty sizes.
fn two_hundred() -> Template {
    let figures = (0..200).map(|number| {
        let mut drawing = Drawing::default();
        let size = mm(20.0 + f64::from(number % 50));
        drawing.part(Area::new(Point::default(), size, size / 2.0));
        let label = format!("main/front/part-{number}");
        let at = Point::of_mm([2.0, 2.0]);
        drawing.text(Layer::Mark, at, mm(2.8), Anchor::Start, &label);
        Figure::new(label.clone(), label, drawing)
    });
    Template { kind: TemplateKind::Core, figures: figures.collect() }
}

fn to_pdf(c: &mut Criterion) {
    let setup = Setup {
        paper: Paper::ALL[0],
        check: PrintCheck::default(),
        job: "bench".into(),
        scale: "1:48".into(),
    };
    let parts = [two_hundred()];
    let mut group = c.benchmark_group("paper");
    group.sample_size(20);
    group.bench_function("200 parts to PDF", |b| {
        b.iter(|| pdf::write(&page::lay_out(&parts, &setup), "bench"));
    });
    let catalog = catalog();
    for demo in DEMOS {
        let document = document(demo.name, demo.text, &catalog);
        let plan = plan::plan(document.job(), &catalog);
        let seen = Seen { job: document.job(), catalog: &catalog, plan: &plan };
        let wish = Wish::of(seen).expect("the job's paper is known");
        group.bench_function(format!("{}/pages", demo.name), |b| {
            b.iter(|| pages(seen, &wish));
        });
        group.bench_function(format!("{}/pages to PDF", demo.name), |b| {
            b.iter(|| pages(seen, &wish).map(|pages| pdf::write(&pages, "bench")));
        });
    }
    group.finish();
}

criterion_group!(benches, to_pdf);
criterion_main!(benches);
