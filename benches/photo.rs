//! Marks on a picture -> lengths: the adjustment alone, and with the 2,000
//! draws behind its intervals, for every photograph of the built-in jobs; a
//! wall redrawn squarely; a large picture opened.

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use image::codecs::jpeg::JpegEncoder;
use nalgebra::Matrix3;
use scantling::job::demo::DEMOS;
use scantling::photo::from_job::shot;
use scantling::photo::lengths::Effort;
use scantling::photo::picture::open;
use scantling::photo::pixels::{Rgb, RgbImage};
use scantling::photo::redraw::redraw;
use scantling::photo::window::Window;
use scantling::solve::camera::View;
use scantling::solve::camera::random::Dice;
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

/// A picture as a camera makes it: soft shapes with edges, and grain.
fn picture(wide: u32, high: u32) -> RgbImage {
    let mut dice = Dice::new(7);
    RgbImage::from_fn(wide, high, |x, y| {
        let soft = 60.0 * (f64::from(x) / 90.0).sin() * (f64::from(y) / 70.0).cos();
        let opening = if (x / 400 + y / 300) % 3 == 0 { -50.0 } else { 0.0 };
        let grain = 6.0 * dice.normal();
        Rgb([110.0, 128.0, 140.0].map(|base| (base + soft + opening + grain) as u8))
    })
}

/// 12 million pixels of a wall redrawn from a picture of 12 million.
fn rectified(c: &mut Criterion) {
    let photograph = picture(4000, 3000);
    let map = Matrix3::new(0.8, 0.1, -1500.0, -0.05, 0.85, -1200.0, 6e-5, 2e-5, 1.0);
    let mut group = c.benchmark_group("rectify");
    group.sample_size(10).throughput(Throughput::Elements(12_000_000));
    for (name, bend) in [("pinhole", 0.0), ("distortion", -8e-9)] {
        let view =
            View { from_wall: Matrix3::identity(), principal: [2000.0, 1500.0], bend, tall: 1.0 };
        let mut result = RgbImage::new(4000, 3000);
        group.bench_function(name, |b| b.iter(|| redraw(&photograph, &view, map, &mut result)));
    }
    group.finish();
}

/// 24 million pixels of JPEG to the first picture of a window 1600 by 1000.
fn first_picture(c: &mut Criterion) {
    let mut bytes = Vec::new();
    let encoder = JpegEncoder::new_with_quality(&mut bytes, 90);
    let drawn = picture(6000, 4000);
    let kind = image::ExtendedColorType::Rgb8;
    image::ImageEncoder::write_image(encoder, drawn.as_raw(), 6000, 4000, kind).expect("a picture");
    println!("24 MP: {} bytes", bytes.len());
    let mut group = c.benchmark_group("first picture");
    group.sample_size(10);
    group.bench_function("24 MP", |b| {
        b.iter(|| {
            let (photograph, facts) = open("24 MP", &bytes).expect("a picture");
            Window::whole(facts.size, [1600, 1000], 1.0).draw(&photograph)
        });
    });
    group.finish();
}

criterion_group!(benches, photographs, rectified, first_picture);
criterion_main!(benches);
