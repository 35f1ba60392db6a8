//! How long the bench takes for a key: the answer worked out and the whole screen
//! drawn. It asserts no time: `cargo test --release --test screens -- --ignored
//! --nocapture key_on_the_bench`.

use std::time::{Duration, Instant};

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use scantling::tui::view;

use crate::desk::Desk;

/// Every key of every question of the list, at one size of screen.
fn keys(size: (u16, u16)) -> Vec<(Duration, String)> {
    let mut desk = Desk::demo("grain-store", size);
    desk.stage("bench");
    let mut taken = Vec::new();
    let questions = include_str!("../scenarios/desk/questions.txt");
    for line in questions.lines().filter(|line| !line.starts_with('#')) {
        let question = line.split(" | ").next().unwrap();
        desk.retype("");
        for (at, letter) in question.char_indices() {
            let area = Rect::new(0, 0, size.0, size.1);
            let mut buffer = Buffer::empty(area);
            desk.text(letter.encode_utf8(&mut [0; 4]));
            // The answer is worked out while it is drawn. The least of a few: what
            // else the machine does is not the key's.
            let once = |_| {
                let begun = Instant::now();
                let _ = view::draw(&desk.state, area, &mut buffer);
                begun.elapsed()
            };
            let least = (0..5).map(once).min().unwrap();
            taken.push((least, question[..at + letter.len_utf8()].to_owned()));
        }
    }
    taken
}

#[test]
#[ignore = "prints a time"]
fn how_long_a_key_on_the_bench_takes() {
    for size in [(80, 24), (160, 50)] {
        let mut taken = keys(size);
        taken.sort();
        let ms = |share: f64| {
            let (time, text) = &taken[(share * (taken.len() - 1) as f64) as usize];
            format!("{:.3} ms ({text})", time.as_secs_f64() * 1e3)
        };
        let count = taken.len();
        println!("{size:?}, {count} keys: median {}", ms(0.5));
        println!("  99 of 100 within {}; worst {}", ms(0.99), ms(1.0));
    }
}
