//! The wall as if seen squarely: a new picture with a constant number of
//! pixels to the unit.

use std::io::Write;

use image::RgbImage;
use nalgebra::Matrix3;

use crate::finding::Stop;
use crate::solve::camera::View;
use crate::solve::camera::solution::Solution;

/// The part of the wall to show, in wall units.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Region {
    /// Left and right.
    pub x: [f64; 2],
    /// Bottom and top.
    pub y: [f64; 2],
}

impl Region {
    /// The box round all marks of the wall itself, a tenth wider on each side.
    #[must_use]
    pub fn round_the_marks(solution: &Solution) -> Self {
        let mut region = Self { x: [f64::MAX, f64::MIN], y: [f64::MAX, f64::MIN] };
        for sight in solution.network.sights.iter().filter(|sight| sight.plane.is_none()) {
            for (ends, index) in [(&mut region.x, sight.x), (&mut region.y, sight.y)] {
                let value = solution.state.coordinate(index);
                *ends = [ends[0].min(value), ends[1].max(value)];
            }
        }
        for ends in [&mut region.x, &mut region.y] {
            let margin = 0.1 * (ends[1] - ends[0]);
            *ends = [ends[0] - margin, ends[1] + margin];
        }
        region
    }
}

/// Pixels to the unit for a picture about 1600 wide: a whole number where it
/// can be one, since the resolution field of the file holds no other.
#[must_use]
pub fn usual_fineness(region: Region) -> f64 {
    let fine = 1600.0 / (region.x[1] - region.x[0]);
    if fine >= 1.0 { fine.round() } else { fine }
}

/// A rectified wall.
#[derive(Clone, Debug)]
pub struct Rectified {
    /// Its pixels; places outside the photograph are black.
    pub picture: RgbImage,
    /// Pixels to the wall unit.
    pub per_unit: f64,
}

/// Redraws a part of the wall with `per_unit` pixels to the unit, bilinearly.
///
/// # Errors
/// When the result would have no pixel or over 100 million.
pub fn run(
    solution: &Solution,
    photograph: &RgbImage,
    region: Region,
    per_unit: f64,
) -> Result<Rectified, Stop> {
    let side = |ends: [f64; 2]| ((ends[1] - ends[0]) * per_unit).round();
    let (w, h) = (side(region.x), side(region.y));
    let fits = w >= 1.0 && h >= 1.0 && w * h <= super::picture::MOST_PIXELS as f64;
    if !fits {
        return Err(Stop::new(
            "rectifying the wall",
            format!("it would be {w} by {h} pixels"),
            "ask for fewer pixels to the unit, or a smaller part of the wall",
        ));
    }
    let view = solution.state.view(&solution.network);
    // From a pixel of the result (its centre) to the wall.
    let to_wall = Matrix3::new(
        1.0 / per_unit,
        0.0,
        region.x[0] + 0.5 / per_unit,
        0.0,
        -1.0 / per_unit,
        region.y[1] - 0.5 / per_unit,
        0.0,
        0.0,
        1.0,
    );
    let mut picture = RgbImage::new(w as u32, h as u32);
    redraw(photograph, &view, view.from_wall * to_wall, &mut picture);
    Ok(Rectified { picture, per_unit })
}

/// Pixels worked off together: places first, which the processor does several
/// at a time, then the picture.
const TOGETHER: usize = 128;

/// Draws `picture` from `photograph`; `map` goes from a pixel of the one to the
/// undistorted place in the other.
pub fn redraw(photograph: &RgbImage, view: &View, map: Matrix3<f64>, picture: &mut RgbImage) {
    let source = Source {
        raw: photograph.as_raw(),
        wide: photograph.width(),
        high: photograph.height(),
        most: [photograph.width(), photograph.height()].map(|side| f64::from(side) + 1.0),
    };
    let row_bytes = 3 * picture.width().max(1) as usize;
    let mut places = [[0_u32; TOGETHER]; 2];
    for (y, row) in picture.chunks_exact_mut(row_bytes).enumerate() {
        for (n, piece) in row.chunks_mut(3 * TOGETHER).enumerate() {
            let x = (n * TOGETHER) as f64;
            let start = map.column(0) * x + map.column(1) * y as f64 + map.column(2);
            let start = [start.x, start.y, start.z];
            let step = [map[(0, 0)], map[(1, 0)], map[(2, 0)]];
            if view.bend.abs() * source.most[0] * source.most[0] > 1e-9 {
                locate(start, step, &source.most, &mut places, |u, v| {
                    let grown = 1.0 + view.bend * (u * u + v * v);
                    [view.principal[0] + u * grown, view.principal[1] + v * grown]
                });
            } else {
                locate(start, step, &source.most, &mut places, |u, v| {
                    [view.principal[0] + u, view.principal[1] + v]
                });
            }
            for (i, pixel) in piece.chunks_exact_mut(3).enumerate() {
                source.sample(places[0][i], places[1][i], pixel);
            }
        }
    }
}

/// Added to a number it puts the number, in steps of 1/256, into the last bits
/// of the sum: 2^44 + 2^43 has a last bit of 2^-8.
const LAST_BITS: f64 = 26_388_279_066_624.0;

/// Places of a run of pixels in the photograph, in 1/256 px; those behind the
/// horizon or outside become places just outside.
#[inline]
fn locate(
    start: [f64; 3],
    step: [f64; 3],
    most: &[f64; 2],
    places: &mut [[u32; TOGETHER]; 2],
    seen: impl Fn(f64, f64) -> [f64; 2],
) {
    let [us, vs] = places;
    for (i, (u, v)) in us.iter_mut().zip(vs.iter_mut()).enumerate() {
        let t = i as f64;
        let depth = start[2] + t * step[2];
        let near = 1.0 / depth;
        let [x, y] = seen((start[0] + t * step[0]) * near, (start[1] + t * step[1]) * near);
        let x = if depth > 0.0 { x } else { -1.0 };
        *u = (x.max(-1.0).min(most[0]) + LAST_BITS).to_bits() as u32;
        *v = (y.max(-1.0).min(most[1]) + LAST_BITS).to_bits() as u32;
    }
}

/// The photograph as its bytes.
struct Source<'p> {
    raw: &'p [u8],
    wide: u32,
    high: u32,
    /// A little beyond its sides.
    most: [f64; 2],
}

impl Source<'_> {
    /// Bilinear value at a place in 1/256 px, which is finer than the 8 bits of
    /// the result; nothing is written outside.
    #[inline]
    fn sample(&self, u: u32, v: u32, out: &mut [u8]) {
        let (x, y, a, b) = (u >> 8, v >> 8, u & 255, v & 255);
        if x >= self.wide - 1 || y >= self.high - 1 {
            return;
        }
        let row = 3 * self.wide as usize;
        let at = y as usize * row + 3 * x as usize;
        let upper: Option<&[u8; 6]> = self.raw.get(at..at + 6).and_then(|s| s.try_into().ok());
        let lower = self.raw.get(at + row..at + row + 6).and_then(|s| s.try_into().ok());
        let (Some(upper), Some(lower)) = (upper, lower) else { return };
        let lower: &[u8; 6] = lower;
        for (c, value) in out.iter_mut().take(3).enumerate() {
            let top = u32::from(upper[c]) * (256 - a) + u32::from(upper[c + 3]) * a;
            let bottom = u32::from(lower[c]) * (256 - a) + u32::from(lower[c + 3]) * a;
            *value = ((top * (256 - b) + bottom * b + (1 << 15)) >> 16) as u8;
        }
    }
}

/// Writes the picture as a PNG file whose resolution field says how many
/// pixels go to the metre (PNG, third edition, 11.3.4.3), for walls measured in
/// metres. The field holds whole numbers only and is left out where the number
/// is none.
///
/// # Errors
/// When the file cannot be written.
pub fn write_png(rectified: &Rectified, to: impl Write) -> Result<(), Stop> {
    let whole = rectified.per_unit.round();
    let fits = (1.0..=f64::from(u32::MAX)).contains(&whole)
        && (rectified.per_unit - whole).abs() < 1e-9 * whole;
    let (wide, high) = rectified.picture.dimensions();
    let write = || -> Result<(), png::EncodingError> {
        let mut encoder = png::Encoder::new(to, wide, high);
        encoder.set_color(png::ColorType::Rgb);
        encoder.set_depth(png::BitDepth::Eight);
        encoder.set_compression(png::Compression::Fast);
        let [xppu, yppu] = [whole as u32; 2];
        let dims = png::PixelDimensions { xppu, yppu, unit: png::Unit::Meter };
        encoder.set_pixel_dims(fits.then_some(dims));
        // By rows: the whole picture is in memory once already.
        let mut header = encoder.write_header()?;
        let mut rows = header.stream_writer()?;
        rows.write_all(rectified.picture.as_raw())?;
        rows.finish()
    };
    write().map_err(|error| Stop::new("writing the rectified wall", error.to_string(), ""))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::Catalog;
    use crate::job::{demo, document::Document};
    use crate::photo::{from_job, lengths, picture};

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

    #[test]
    fn every_pixel_is_the_bilinear_value_at_its_place() {
        let photograph = RgbImage::from_fn(61, 47, |x, y| {
            image::Rgb([x * 4, y * 5, (x * 7 + y * 11) % 256].map(|v| v as u8))
        });
        for bend in [0.0, -4e-5] {
            let view = View { from_wall: Matrix3::identity(), principal: [30.0, 23.0], bend };
            let map = Matrix3::new(0.31, 0.04, -24.0, -0.03, 0.28, -19.0, 4e-4, -3e-4, 1.0);
            let mut picture = RgbImage::new(150, 130);
            redraw(&photograph, &view, map, &mut picture);
            let mut checked = 0;
            for (x, y, pixel) in picture.enumerate_pixels() {
                let p = map * nalgebra::Vector3::new(f64::from(x), f64::from(y), 1.0);
                let at = view.bent([p.x / p.z, p.y / p.z]);
                if at[0] >= 0.01 && at[1] >= 0.01 && at[0] < 59.9 && at[1] < 45.9 {
                    let want = slowly(&photograph, at);
                    // A step of 1/256 px on slopes of up to 249 a pixel.
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

    #[test]
    fn a_rectified_door_has_its_true_shape() {
        let catalog = Catalog::built_in().unwrap();
        let text = demo::find("grain-store").unwrap().text;
        let document = Document::read("grain-store", text, &catalog).unwrap();
        let photo = document.job().photos.iter().find(|photo| photo.id == "B2").unwrap();
        let marked = from_job::marked(photo).unwrap();
        let solution = lengths::solve(&marked).unwrap();
        let bytes = include_bytes!("../../data/demo/photos/B2_grainstore_track.jpg");
        let (photograph, _) = picture::open("B2", bytes).unwrap();
        let door = marked.rect("door3").unwrap();
        let [tl, _, br, _] = marked.rects[door].corners.map(|k| solution.network.sights[k]);
        let at = |index: usize| solution.state.coordinate(index);
        let region = Region { x: [at(tl.x), at(br.x)], y: [at(br.y), at(tl.y)] };
        let result = run(&solution, &photograph, region, 100.0).unwrap();
        let (w, h) = result.picture.dimensions();
        // 8 by 9 ft.
        assert!(
            (f64::from(w) - 243.8).abs() < 3.0 && (f64::from(h) - 274.3).abs() < 3.0,
            "{w} {h}"
        );
        // The middle of the door in the result and in the photograph.
        let middle = [0.5 * (region.x[0] + region.x[1]), 0.5 * (region.y[0] + region.y[1]), 0.0];
        let place = solution.state.project(&solution.network, middle).unwrap();
        let seen = photograph.get_pixel(place[0].round() as u32, place[1].round() as u32);
        let drawn = result.picture.get_pixel(w / 2, h / 2);
        for (a, b) in seen.0.iter().zip(drawn.0) {
            assert!(a.abs_diff(b) < 40, "{seen:?} {drawn:?}");
        }
        let mut file = Vec::new();
        write_png(&result, &mut file).unwrap();
        let reader = png::Decoder::new(std::io::Cursor::new(&file)).read_info().unwrap();
        let dims = reader.info().pixel_dims.unwrap();
        assert_eq!((dims.xppu, dims.yppu, dims.unit), (100, 100, png::Unit::Meter));
        assert_eq!(picture::open("back", &file).unwrap().0, result.picture);
        assert!(run(&solution, &photograph, region, 1e6).is_err());
    }
}
