//! The wall as if seen squarely: a new picture with a constant number of
//! pixels to the unit.

use std::io::Write;

use super::pixels::RgbImage;
use nalgebra::Matrix3;

use super::redraw::redraw;
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
        for sight in solution.network.sights.iter().filter(|s| s.plane.is_none() && s.z.is_none()) {
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
