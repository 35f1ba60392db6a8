//! The wall as if seen squarely: a new picture with a constant number of
//! pixels to the unit.

use image::RgbImage;
use nalgebra::Matrix3;

use crate::finding::Stop;
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
    let map = view.from_wall * to_wall;
    let mut picture = RgbImage::new(w as u32, h as u32);
    let row_bytes = 3 * w as usize;
    for (y, row) in picture.chunks_exact_mut(row_bytes).enumerate() {
        let start = map.column(1) * y as f64 + map.column(2);
        for (x, pixel) in row.chunks_exact_mut(3).enumerate() {
            let p = start + map.column(0) * x as f64;
            if p.z > 0.0 {
                let m = [p.x / p.z, p.y / p.z];
                let grown = 1.0 + view.bend * (m[0] * m[0] + m[1] * m[1]);
                let at = [view.principal[0] + m[0] * grown, view.principal[1] + m[1] * grown];
                sample(photograph, at, pixel);
            }
        }
    }
    Ok(Rectified { picture, per_unit })
}

/// Bilinear value at a place; left alone outside the photograph.
#[inline]
fn sample(photograph: &RgbImage, [u, v]: [f64; 2], out: &mut [u8]) {
    let (w, h) = (photograph.width() as usize, photograph.height() as usize);
    let inside = u >= 0.0 && v >= 0.0 && u < (w - 1) as f64 && v < (h - 1) as f64;
    if !inside {
        return;
    }
    // 8 bits of fraction are finer than the 8 bits of the result.
    let (iu, iv) = ((u * 256.0) as usize, (v * 256.0) as usize);
    let (x, y, a, b) = (iu >> 8, iv >> 8, (iu & 255) as u32, (iv & 255) as u32);
    let at = 3 * (y * w + x);
    let raw = photograph.as_raw();
    let (Some(upper), Some(lower)) = (raw.get(at..at + 6), raw.get(at + 3 * w..at + 3 * w + 6))
    else {
        return;
    };
    for (c, value) in out.iter_mut().enumerate() {
        let top = u32::from(upper[c]) * (256 - a) + u32::from(upper[c + 3]) * a;
        let bottom = u32::from(lower[c]) * (256 - a) + u32::from(lower[c + 3]) * a;
        *value = ((top * (256 - b) + bottom * b + (1 << 15)) >> 16) as u8;
    }
}

/// The picture as a PNG file whose resolution field says how many pixels go to
/// the metre (PNG, third edition, 11.3.4.3), for walls measured in metres.
///
/// # Errors
/// When the encoder fails.
pub fn png(rectified: &Rectified) -> Result<Vec<u8>, Stop> {
    let mut bytes = Vec::new();
    rectified
        .picture
        .write_to(&mut std::io::Cursor::new(&mut bytes), image::ImageFormat::Png)
        .map_err(|error| Stop::new("writing the rectified wall", error.to_string(), ""))?;
    let per_metre = (rectified.per_unit.round() as u32).to_be_bytes();
    let mut body = b"pHYs".to_vec();
    body.extend(per_metre);
    body.extend(per_metre);
    body.push(1);
    let mut chunk = 9_u32.to_be_bytes().to_vec();
    chunk.extend(&body);
    chunk.extend(checksum(&body).to_be_bytes());
    // Signature 8 and header 25 bytes come first.
    bytes.splice(33..33, chunk);
    Ok(bytes)
}

/// CRC-32 as PNG has it (annex D).
fn checksum(bytes: &[u8]) -> u32 {
    let mut crc = u32::MAX;
    for &byte in bytes {
        crc ^= u32::from(byte);
        for _ in 0..8 {
            crc = if crc & 1 == 1 { 0xEDB8_8320 ^ (crc >> 1) } else { crc >> 1 };
        }
    }
    !crc
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::Catalog;
    use crate::job::{demo, document::Document};
    use crate::photo::{from_job, lengths, picture};

    #[test]
    fn checksum_of_the_empty_end_chunk() {
        // The IEND chunk every PNG ends with.
        assert_eq!(checksum(b"IEND"), 0xAE42_6082);
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
        let file = png(&result).unwrap();
        assert_eq!(&file[37..41], b"pHYs");
        assert!(picture::look("back", &file).is_ok());
        assert!(run(&solution, &photograph, region, 1e6).is_err());
    }
}
