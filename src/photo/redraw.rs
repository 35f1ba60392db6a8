//! A photograph redrawn through a projective map, bilinearly: the hot loop
//! behind [`super::rectify`].
//!
//! Pixels are worked off in runs, and each run in steps that do one thing to
//! all of it: where each pixel lies, what its four neighbours there are, the
//! blend. The first and the last step are plain loops over arrays, which the
//! compiler turns into work on several pixels at a time.

use std::array::from_fn;

use super::pixels::RgbImage;
use nalgebra::Matrix3;

use crate::solve::camera::View;

/// Pixels worked off together.
const RUN: usize = 128;

/// Draws `picture` from `photograph`; `map` goes from a pixel of the one to the
/// undistorted place in the other. Places beyond the horizon or outside are
/// left as they are. Values are within one grey level of the exact ones at
/// places within about 1/200 px.
pub fn redraw(photograph: &RgbImage, view: &View, map: Matrix3<f64>, picture: &mut RgbImage) {
    let source = Source::of(photograph);
    let bend = view.bend as f32;
    let principal = view.principal.map(|c| c as f32);
    let tall = view.tall as f32;
    let row_bytes = 3 * picture.width().max(1) as usize;
    let mut places = Places { u: [0; RUN], v: [0; RUN] };
    let mut blend = Blend::new();
    for (y, row) in picture.as_raw_mut().chunks_exact_mut(row_bytes).enumerate() {
        for (n, pixels) in row.chunks_mut(3 * RUN).enumerate() {
            let x = (n * RUN) as f64;
            let start = map.column(0) * x + map.column(1) * y as f64 + map.column(2);
            let line = Line {
                start: [start.x, start.y, start.z].map(|c| c as f32),
                step: [map[(0, 0)], map[(1, 0)], map[(2, 0)]].map(|c| c as f32),
            };
            places.find(&line, &source, |u, v| {
                let grown = 1.0 + bend * (u * u + v * v);
                [principal[0] + u * grown, principal[1] + v * grown * tall]
            });
            match source.parts {
                8 => source.gather::<8>(&places, &mut blend),
                _ => source.gather::<COARSE>(&places, &mut blend),
            }
            blend.run();
            blend.put(pixels);
        }
    }
}

/// Homogeneous places along a run: where it starts, and a step to the pixel.
struct Line {
    start: [f32; 3],
    step: [f32; 3],
}

/// Places of a run in the photograph, in parts of a pixel of [`Source::parts`].
struct Places {
    u: [u32; RUN],
    v: [u32; RUN],
}

impl Places {
    /// Those behind the horizon or outside become places just outside.
    ///
    /// Single precision: its error, up to 1/1000 px on a photograph 10,000 px
    /// wide, is below the parts of a pixel that are kept.
    #[inline]
    fn find(&mut self, line: &Line, source: &Source<'_>, seen: impl Fn(f32, f32) -> [f32; 2]) {
        let [last_u, last_v] = source.beyond;
        let fixed = |place: f32| (place + source.last_bits).to_bits() & MANTISSA;
        for (i, (u, v)) in self.u.iter_mut().zip(&mut self.v).enumerate() {
            let t = f32::from(i as u16);
            let depth = line.start[2] + t * line.step[2];
            let near = 1.0 / depth;
            let [x, y] = seen(
                (line.start[0] + t * line.step[0]) * near,
                (line.start[1] + t * line.step[1]) * near,
            );
            let x = if depth > 0.0 { x } else { -1.0 };
            *u = fixed(within(x, last_u));
            *v = fixed(within(y, last_v));
        }
    }
}

/// From -1 to `last`, and -1 for what is no number: comparisons in this order
/// are one instruction each.
#[inline]
fn within(place: f32, last: f32) -> f32 {
    let place = if place > -1.0 { place } else { -1.0 };
    if place < last { place } else { last }
}

/// The bits of a single-precision number that count below 1.5 times its power
/// of two.
const MANTISSA: u32 = 0x003f_ffff;

/// For strips of up to a million pixels in length.
const COARSE: u32 = 2;

/// The photograph as its bytes.
struct Source<'p> {
    raw: &'p [u8],
    row: usize,
    /// The first column and row that have no right or lower neighbour.
    rim: [u32; 2],
    /// A little beyond its sides.
    beyond: [f32; 2],
    /// A place is kept in 2^-parts px: 1/256, or coarser where a side is so
    /// long that [`MANTISSA`] would not hold it.
    parts: u32,
    /// Added to a place it leaves the place, in those parts, in the last bits of
    /// the sum.
    last_bits: f32,
}

impl<'p> Source<'p> {
    fn of(photograph: &'p RgbImage) -> Self {
        let sides = [photograph.width(), photograph.height()];
        let fine = sides[0].max(sides[1]) < (MANTISSA >> 8) - 2;
        let parts = if fine { 8 } else { COARSE };
        Self {
            raw: photograph.as_raw(),
            row: 3 * sides[0] as usize,
            rim: sides.map(|side| side.saturating_sub(1)),
            beyond: sides.map(|side| side as f32 + 1.0),
            parts,
            last_bits: 1.5 * f32::from(2_u8).powi(23 - parts as i32),
        }
    }

    /// Fills in the neighbours of each place; black where it is outside.
    fn gather<const PARTS: u32>(&self, places: &Places, blend: &mut Blend) {
        for (i, (&u, &v)) in places.u.iter().zip(&places.v).enumerate() {
            let (x, y) = (u >> PARTS, v >> PARTS);
            let weight = |place: u32| (place << (8 - PARTS)) as u16 & 255;
            blend.right[i] = [weight(u); 4];
            blend.down[i] = [weight(v); 4];
            let inside = x < self.rim[0] && y < self.rim[1];
            let [upper, lower] = if inside { self.two_rows(x, y) } else { [0; 2] };
            blend.upper_left[i] = (upper as u32).to_le_bytes();
            blend.upper_right[i] = ((upper >> 24) as u32).to_le_bytes();
            blend.lower_left[i] = (lower as u32).to_le_bytes();
            blend.lower_right[i] = ((lower >> 24) as u32).to_le_bytes();
        }
    }

    /// A pixel and its right neighbour, three bytes each, of two rows.
    #[inline]
    fn two_rows(&self, x: u32, y: u32) -> [u64; 2] {
        let at = y as usize * self.row + 3 * x as usize;
        let from = self.raw.get(at..).unwrap_or_default();
        let below = from.get(self.row..self.row + 8).and_then(<[u8]>::first_chunk);
        match (from.first_chunk(), below) {
            (Some(upper), Some(lower)) => [upper, lower].map(|bytes| u64::from_le_bytes(*bytes)),
            _ => [at, at + self.row].map(|at| self.last_six(at)),
        }
    }

    /// Six bytes where no eight are left, at the end of the photograph.
    #[cold]
    fn last_six(&self, at: usize) -> u64 {
        let byte = |i: usize| self.raw.get(at + i).copied().filter(|_| i < 6).unwrap_or(0);
        u64::from_le_bytes(from_fn(byte))
    }
}

/// A run: the four neighbours of each place, how far it is to the right and
/// down between them in 1/256, and what comes of it.
struct Blend {
    upper_left: [[u8; 4]; RUN],
    upper_right: [[u8; 4]; RUN],
    lower_left: [[u8; 4]; RUN],
    lower_right: [[u8; 4]; RUN],
    right: [[u16; 4]; RUN],
    down: [[u16; 4]; RUN],
    result: [[u8; 4]; RUN],
}

impl Blend {
    fn new() -> Self {
        let (bytes, weights) = ([[0; 4]; RUN], [[0; 4]; RUN]);
        Self {
            upper_left: bytes,
            upper_right: bytes,
            lower_left: bytes,
            lower_right: bytes,
            right: weights,
            down: weights,
            result: bytes,
        }
    }

    fn run(&mut self) {
        let [ul, ur] = [self.upper_left.as_flattened(), self.upper_right.as_flattened()];
        let [ll, lr] = [self.lower_left.as_flattened(), self.lower_right.as_flattened()];
        let [right, down] = [self.right.as_flattened(), self.down.as_flattened()];
        for (i, result) in self.result.as_flattened_mut().iter_mut().enumerate() {
            let left = between(ul[i], ll[i], down[i]);
            *result = between(left, between(ur[i], lr[i], down[i]), right[i]);
        }
    }

    fn put(&self, pixels: &mut [u8]) {
        for (pixel, &[red, green, blue, _]) in pixels.as_chunks_mut().0.iter_mut().zip(&self.result)
        {
            *pixel = [red, green, blue];
        }
    }
}

/// `part`/256 of the way from `a` to `b`, rounded. Sixteen bits hold the sum,
/// and what wraps on the way wraps back.
#[inline]
fn between(a: u8, b: u8, part: u16) -> u8 {
    let (a, b) = (u16::from(a), u16::from(b));
    let sum = (a << 8).wrapping_add(b.wrapping_sub(a).wrapping_mul(part));
    (sum.wrapping_add(128) >> 8) as u8
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::photo::pixels::Rgb;

    /// The plain way, pixel by pixel in floating point.
    fn slowly(photograph: &RgbImage, at: [f64; 2]) -> [f64; 3] {
        let [x, y] = at.map(f64::floor);
        let (a, b) = (at[0] - x, at[1] - y);
        let pixel = |dx: u32, dy: u32| photograph.get_pixel(x as u32 + dx, y as u32 + dy).0;
        [0, 1, 2].map(|c| {
            let [p, q, r, s] = [pixel(0, 0), pixel(1, 0), pixel(0, 1), pixel(1, 1)];
            let (top, bottom) = (
                f64::from(p[c]) * (1.0 - a) + f64::from(q[c]) * a,
                f64::from(r[c]) * (1.0 - a) + f64::from(s[c]) * a,
            );
            top * (1.0 - b) + bottom * b
        })
    }

    fn photograph() -> RgbImage {
        RgbImage::from_fn(61, 47, |x, y| {
            Rgb([x * 4, y * 5, (x * 7 + y * 11) % 256].map(|v| v as u8))
        })
    }

    #[test]
    fn every_pixel_is_the_bilinear_value_at_its_place() {
        let photograph = photograph();
        for bend in [0.0, -4e-5] {
            let view =
                View { from_wall: Matrix3::identity(), principal: [30.0, 23.0], bend, tall: 1.02 };
            let map = Matrix3::new(0.31, 0.04, -24.0, -0.03, 0.28, -19.0, 4e-4, -3e-4, 1.0);
            let mut picture = RgbImage::new(150, 130);
            redraw(&photograph, &view, map, &mut picture);
            let mut checked = 0;
            for (x, y, pixel) in picture.enumerate_pixels() {
                let p = map * nalgebra::Vector3::new(f64::from(x), f64::from(y), 1.0);
                let at = view.bent([p.x / p.z, p.y / p.z]);
                if at[0] >= 0.01 && at[1] >= 0.01 && at[0] < 59.99 && at[1] < 45.99 {
                    let want = slowly(&photograph, at);
                    // One level, and 1/200 px on slopes of up to 249 a pixel.
                    for (got, want) in pixel.0.iter().zip(want) {
                        assert!((f64::from(*got) - want).abs() < 2.5, "{x} {y}: {got} {want}");
                    }
                    checked += 1;
                } else if at[0] < -0.5 || at[1] < -0.5 || at[0] > 61.0 || at[1] > 47.0 {
                    assert_eq!(pixel.0, [0; 3], "outside");
                }
            }
            assert!(checked > 10_000, "{checked}");
        }
    }

    /// As it is: the last row and column have no neighbour and stay black.
    #[test]
    fn drawn_at_its_own_size_a_photograph_is_itself() {
        let photograph = photograph();
        let view =
            View { from_wall: Matrix3::identity(), principal: [0.0; 2], bend: 0.0, tall: 1.0 };
        let mut picture = RgbImage::new(61, 47);
        redraw(&photograph, &view, Matrix3::identity(), &mut picture);
        for (x, y, pixel) in picture.enumerate_pixels() {
            let rim = x == 60 || y == 46;
            let want = if rim { Rgb([0; 3]) } else { photograph.get_pixel(x, y) };
            assert_eq!(pixel, want, "{x} {y}");
        }
    }

    /// A strip so long that its places are kept in coarser parts of a pixel.
    #[test]
    fn a_long_strip_is_drawn_at_its_far_end() {
        let photograph = RgbImage::from_fn(40_000, 3, |x, _| Rgb([(x % 256) as u8; 3]));
        let view =
            View { from_wall: Matrix3::identity(), principal: [0.0; 2], bend: 0.0, tall: 1.0 };
        let map = Matrix3::new(1.0, 0.0, 39_744.0, 0.0, 1.0, 0.5, 0.0, 0.0, 1.0);
        let mut picture = RgbImage::new(250, 1);
        redraw(&photograph, &view, map, &mut picture);
        for (x, _, pixel) in picture.enumerate_pixels() {
            assert_eq!(pixel.0, [((39_744 + x) % 256) as u8; 3], "{x}");
        }
    }
}
