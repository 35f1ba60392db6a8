//! Dots as sixels: bands of six rows, each colour of a band drawn over it in
//! one pass (DEC STD 070; public descriptions of the format, READ).

use std::fmt::Write as _;

use crate::photo::pixels::RgbImage;

/// Levels of red, green and blue: 252 colours, under the 256 of most terminals.
const LEVELS: [u32; 3] = [6, 7, 6];
/// How many colours there are.
const COLOURS: usize = 252;

/// Thresholds of ordered dots (Bayer), sixteenths.
const DOTS: [[u32; 4]; 4] = [[0, 8, 2, 10], [12, 4, 14, 6], [3, 11, 1, 9], [15, 7, 13, 5]];

/// The picture as one sixel sequence.
pub(super) fn encode(picture: &RgbImage) -> String {
    let (wide, high) = picture.dimensions();
    let mut out = format!("\x1bP0;1;0q\"1;1;{wide};{high}");
    palette(&mut out);
    let mut band = Band::new(wide as usize);
    for top in (0..high).step_by(6) {
        band.fill(picture, top);
        band.write(&mut out);
    }
    out.push_str("\x1b\\");
    out
}

/// The fixed cube of colours, in percent.
fn palette(out: &mut String) {
    let [reds, greens, blues] = LEVELS;
    let percent = |level: u32, of: u32| (level * 100 + (of - 1) / 2) / (of - 1);
    for number in 0..reds * greens * blues {
        let (red, green, blue) = (number / blues / greens, number / blues % greens, number % blues);
        let [red, green, blue] =
            [(red, reds), (green, greens), (blue, blues)].map(|(a, b)| percent(a, b));
        let _ = write!(out, "#{number};2;{red};{green};{blue}");
    }
}

/// The colour of a dot: the level under or over it, by the threshold of its
/// place, so that areas keep their mean.
fn colour([red, green, blue]: [u8; 3], x: u32, y: u32) -> usize {
    let threshold = DOTS[(y % 4) as usize][(x % 4) as usize];
    let level = |value: u8, levels: u32| {
        let steps = u32::from(value) * (levels - 1) * 16;
        ((steps + (2 * threshold + 1) * 255 / 2) / (255 * 16)).min(levels - 1)
    };
    let [reds, greens, blues] = LEVELS;
    ((level(red, reds) * greens + level(green, greens)) * blues + level(blue, blues)) as usize
}

/// Six rows: for each colour the dots it has in each column.
struct Band {
    wide: usize,
    masks: Vec<u8>,
    used: [bool; COLOURS],
}

impl Band {
    fn new(wide: usize) -> Self {
        Self { wide, masks: vec![0; wide * COLOURS], used: [false; COLOURS] }
    }

    fn fill(&mut self, picture: &RgbImage, top: u32) {
        for colour in (0..COLOURS).filter(|colour| self.used[*colour]) {
            self.masks[colour * self.wide..][..self.wide].fill(0);
        }
        self.used = [false; COLOURS];
        for row in 0..(picture.height() - top).min(6) {
            for x in 0..picture.width() {
                let at = colour(picture.get_pixel(x, top + row).0, x, top + row);
                self.used[at] = true;
                self.masks[at * self.wide + x as usize] |= 1 << row;
            }
        }
    }

    fn write(&self, out: &mut String) {
        for colour in (0..COLOURS).filter(|colour| self.used[*colour]) {
            let _ = write!(out, "#{colour}");
            let masks = &self.masks[colour * self.wide..][..self.wide];
            let end = masks.iter().rposition(|mask| *mask != 0).map_or(0, |last| last + 1);
            for run in masks[..end].chunk_by(|a, b| a == b) {
                let sign = char::from(run[0] + 63);
                match run.len() {
                    1..=3 => out.extend(std::iter::repeat_n(sign, run.len())),
                    many => {
                        let _ = write!(out, "!{many}{sign}");
                    }
                }
            }
            out.push('$');
        }
        out.push('-');
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::photo::pixels::Rgb;

    /// A picture read back from its sixels by the rules of the format.
    fn read(text: &str, wide: usize, high: usize) -> Vec<usize> {
        let body = text.split_once('q').expect("an introducer").1.trim_end_matches("\x1b\\");
        let (_, mut rest) = body.split_once('#').expect("colours");
        let mut dots = vec![usize::MAX; wide * high];
        let (mut x, mut band, mut colour) = (0, 0, 0);
        let number = |rest: &mut &str| {
            let end = rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len());
            let (digits, more) = rest.split_at(end);
            *rest = more;
            digits.parse::<usize>().expect("a number")
        };
        let mut first = Some('#');
        while let Some(sign) = first.take().or_else(|| {
            let sign = rest.chars().next()?;
            rest = &rest[1..];
            Some(sign)
        }) {
            let (count, sign) = match sign {
                '#' => {
                    colour = number(&mut rest);
                    while rest.starts_with(';') {
                        rest = &rest[1..];
                        number(&mut rest);
                    }
                    continue;
                }
                '$' => {
                    x = 0;
                    continue;
                }
                '-' => {
                    (x, band) = (0, band + 1);
                    continue;
                }
                '!' => {
                    let count = number(&mut rest);
                    let sign = rest.chars().next().expect("a sign");
                    rest = &rest[1..];
                    (count, sign)
                }
                sign => (1, sign),
            };
            let mask = sign as u32 - 63;
            for at in x..x + count {
                for row in (0..6).filter(|row| mask >> row & 1 == 1) {
                    dots[(band * 6 + row) * wide + at] = colour;
                }
            }
            x += count;
        }
        dots
    }

    #[test]
    fn every_dot_comes_back_once_in_its_colour() {
        let (wide, high) = (23, 17);
        let picture = RgbImage::from_fn(wide, high, |x, y| {
            Rgb([(x * 11) as u8, (y * 15) as u8, ((x * y) % 256) as u8])
        });
        let dots = read(&encode(&picture), wide as usize, high as usize);
        for (x, y, dot) in picture.enumerate_pixels() {
            let got = dots[(y * wide + x) as usize];
            assert_eq!(got, colour(dot.0, x, y), "{x} {y}");
        }
    }

    #[test]
    fn an_even_area_keeps_its_mean() {
        for value in [0_u8, 10, 77, 128, 200, 255] {
            let mean = |levels: u32, of: fn(usize) -> u32| {
                let all = (0..16).map(|at| of(colour([value; 3], at % 4, at / 4)));
                f64::from(all.sum::<u32>()) / 16.0 * 255.0 / f64::from(levels - 1)
            };
            let blue = mean(6, |number| number as u32 % 6);
            let green = mean(7, |number| number as u32 / 6 % 7);
            assert!((blue - f64::from(value)).abs() < 4.0, "{value}: {blue}");
            assert!((green - f64::from(value)).abs() < 4.0, "{value}: {green}");
        }
    }
}
