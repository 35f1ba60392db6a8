//! A picture file's bytes -> what it says of itself, and its pixels.
//!
//! The header is looked at before memory is taken. Reading the file itself is
//! done at the edge of the program.

use std::borrow::Cow;
use std::fs;
use std::io::Cursor;
use std::path::Path;

use exif::{In, Tag};
use image::metadata::Orientation;
use image::{ImageFormat, ImageReader, Limits, RgbImage};

use super::marked::{Focal, Origin};
use crate::finding::Stop;
use crate::job::demo;
use crate::job::photo::leaves_the_folder;

/// The most pixels a picture may have.
pub const MOST_PIXELS: u64 = 100_000_000;

/// Relative standard uncertainty of a focal length from a file's data: the
/// 35 mm figure is rounded to whole millimetres and the lens moves to focus.
const FOCAL_SPREAD: f64 = 0.04;

/// Diagonal of the 36 by 24 mm frame that "35 mm" focal lengths refer to.
const FILM_DIAGONAL: f64 = 43.266_615_305_567_87;

/// What a picture file says of itself.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Facts {
    /// Width and height in pixels, upright.
    pub size: [u32; 2],
    /// EXIF orientation, 1 to 8.
    pub orientation: u8,
    /// The focal length, where the file has it.
    pub focal: Option<Focal>,
    /// What kind of picture it seems to be.
    pub origin: Origin,
}

fn stop(name: &str, trouble: impl Into<String>, hint: &str) -> Stop {
    Stop::new(format!("opening the picture {name}"), trouble, hint)
}

/// Reads the header of a JPEG or PNG picture.
///
/// # Errors
/// When it is neither, is damaged, or has over [`MOST_PIXELS`].
pub fn look(name: &str, bytes: &[u8]) -> Result<Facts, Stop> {
    let damaged = |error: &dyn std::fmt::Display| {
        stop(name, format!("its header cannot be read ({error})"), "save it again as JPEG or PNG")
    };
    let (width, height) = reader(name, bytes)?.into_dimensions().map_err(|e| damaged(&e))?;
    let pixels = u64::from(width) * u64::from(height);
    if pixels == 0 || pixels > MOST_PIXELS {
        return Err(stop(
            name,
            format!("it says it is {width} by {height} pixels"),
            "pictures up to 100 million pixels can be used: make a smaller copy",
        ));
    }
    let data = exif::Reader::new().read_from_container(&mut Cursor::new(bytes)).ok();
    let orientation = data.as_ref().and_then(|d| number(d, Tag::Orientation)).unwrap_or(1.0) as u8;
    let turned = (5..=8).contains(&orientation);
    let focal = data.as_ref().and_then(|d| focal(d, [width, height].map(f64::from)));
    let origin = data.as_ref().filter(|_| focal.is_some());
    Ok(Facts {
        origin: origin.map_or(Origin::Unknown, |data| whole_or_part(data, [width, height])),
        size: if turned { [height, width] } else { [width, height] },
        orientation: if (1..=8).contains(&orientation) { orientation } else { 1 },
        focal,
    })
}

/// The most bytes a picture file may have.
const MOST_BYTES: u64 = 512 * 1024 * 1024;

/// Reads a picture file; a folder, a pipe or a file of over 512 MB is refused
/// before it is read.
///
/// # Errors
/// When it is not there, is no file, or is too large.
pub fn read(path: &Path) -> Result<Vec<u8>, Stop> {
    let name = path.display().to_string();
    let hint = "see that the picture stands where the job or the marks file says";
    let facts = fs::metadata(path).map_err(|error| stop(&name, error.to_string(), hint))?;
    if !facts.is_file() || facts.len() > MOST_BYTES {
        return Err(stop(&name, "it is no file of a usable size", "JPEG or PNG up to 512 MB"));
    }
    fs::read(path).map_err(|error| stop(&name, error.to_string(), hint))
}

/// The bytes of a job's picture: beside the job's file, or those built in for a
/// job that is.
///
/// # Errors
/// As [`read`]; and when the file is a link out of the job's folder, which its
/// path does not show.
pub fn bytes(job: Option<&Path>, file: &str) -> Result<Cow<'static, [u8]>, Stop> {
    let folder = job.map(|job| job.parent().unwrap_or(Path::new("")));
    match (folder.map(|folder| (folder, folder.join(file))), demo::picture(file)) {
        (Some((_, path)), Some(bytes)) if !path.exists() => Ok(Cow::Borrowed(bytes)),
        (Some((folder, path)), _) => {
            if !leaves_the_folder(file) {
                no_link_out(folder, &path)?;
            }
            read(&path).map(Cow::Owned)
        }
        (None, Some(bytes)) => Ok(Cow::Borrowed(bytes)),
        (None, None) => {
            Err(stop(file, "the job is not saved, so nothing stands beside it", "save it first"))
        }
    }
}

fn no_link_out(folder: &Path, path: &Path) -> Result<(), Stop> {
    let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
    // What is not there is told when it is read.
    let (Ok(folder), Ok(target)) = (folder.canonicalize(), path.canonicalize()) else {
        return Ok(());
    };
    if target.starts_with(&folder) {
        return Ok(());
    }
    Err(stop(
        &path.display().to_string(),
        format!("it is a link out of the job's folder, to {}", target.display()),
        "copy the picture beside the job, or write where it is in the job",
    ))
}

fn reader<'a>(name: &str, bytes: &'a [u8]) -> Result<ImageReader<Cursor<&'a [u8]>>, Stop> {
    let neither = || stop(name, "it is no JPEG or PNG picture", "save it as JPEG or PNG");
    let reader =
        ImageReader::new(Cursor::new(bytes)).with_guessed_format().map_err(|_| neither())?;
    match reader.format() {
        Some(ImageFormat::Jpeg | ImageFormat::Png) => Ok(reader),
        _ => Err(neither()),
    }
}

fn number(data: &exif::Exif, tag: Tag) -> Option<f64> {
    let field = data.get_field(tag, In::PRIMARY)?;
    match &field.value {
        exif::Value::Rational(list) => list.first().map(exif::Rational::to_f64),
        value => value.get_uint(0).map(f64::from),
    }
    .filter(|value| value.is_finite())
}

/// The focal length in pixels: from the 35 mm figure by the diagonal, else
/// from the sensor's own resolution (Exif 2.32, tags 41989, 37386, 41486, 41488).
fn focal(data: &exif::Exif, [w, h]: [f64; 2]) -> Option<Focal> {
    let film = number(data, Tag::FocalLengthIn35mmFilm).filter(|&f| f > 0.0);
    let pixels = match film {
        Some(millimetres) => millimetres / FILM_DIAGONAL * w.hypot(h),
        None => {
            let unit = match number(data, Tag::FocalPlaneResolutionUnit)? as u32 {
                2 => 25.4,
                3 => 10.0,
                _ => return None,
            };
            number(data, Tag::FocalLength)? * number(data, Tag::FocalPlaneXResolution)? / unit
        }
    };
    let likely = pixels > 0.2 * w && pixels < 40.0 * w;
    likely.then_some(Focal { pixels, relative: FOCAL_SPREAD })
}

/// A camera's file is whole while it has the shape the camera wrote down (Exif
/// 2.32, tags 40962 and 40963): copies made smaller keep it, parts do not.
fn whole_or_part(data: &exif::Exif, size: [u32; 2]) -> Origin {
    let taken = [Tag::PixelXDimension, Tag::PixelYDimension].map(|tag| number(data, tag));
    let [Some(wide), Some(high)] = taken else { return Origin::Camera };
    let [w, h] = size.map(f64::from);
    let same = (w * high / (h * wide) - 1.0).abs() < 0.01;
    if same { Origin::Camera } else { Origin::Part }
}

/// Decodes a picture and sets it upright.
///
/// # Errors
/// As [`look`], and when the pixels are damaged.
pub fn open(name: &str, bytes: &[u8]) -> Result<(RgbImage, Facts), Stop> {
    let facts = look(name, bytes)?;
    let mut reader = reader(name, bytes)?;
    let mut limits = Limits::default();
    limits.max_alloc = Some(8 * MOST_PIXELS);
    reader.limits(limits);
    let mut picture = reader.decode().map_err(|error| {
        stop(name, format!("its pixels are damaged ({error})"), "fetch the file again")
    })?;
    if let Some(orientation) = Orientation::from_exif(facts.orientation) {
        picture.apply_orientation(orientation);
    }
    Ok((picture.into_rgb8(), facts))
}

#[cfg(test)]
mod tests {
    use super::*;

    const DEMO: &[u8] = include_bytes!("../../data/demo/photos/A3_cannery_gable.jpg");

    fn png(width: u32, height: u32) -> Vec<u8> {
        let mut bytes = Vec::new();
        RgbImage::new(width, height)
            .write_to(&mut Cursor::new(&mut bytes), ImageFormat::Png)
            .unwrap();
        bytes
    }

    /// A JPEG with an EXIF block put in: orientation 6, 28 mm on 35 mm film.
    fn with_exif(jpeg: &[u8]) -> Vec<u8> {
        let mut tiff = b"MM\0\x2a\0\0\0\x08\0\x02".to_vec();
        tiff.extend(b"\x01\x12\0\x03\0\0\0\x01\0\x06\0\0"); // orientation
        tiff.extend(b"\x87\x69\0\x04\0\0\0\x01\0\0\0\x26\0\0\0\0"); // Exif block at 38
        tiff.extend(b"\0\x01\xa4\x05\0\x03\0\0\0\x01\0\x1c\0\0\0\0\0\0");
        let mut out = jpeg[..2].to_vec();
        out.extend(b"\xff\xe1");
        out.extend((tiff.len() as u16 + 8).to_be_bytes());
        out.extend(b"Exif\0\0");
        out.extend(tiff);
        out.extend(&jpeg[2..]);
        out
    }

    #[test]
    fn reads_a_picture_without_data() {
        let facts = look("demo", DEMO).unwrap();
        let origin = Origin::Unknown;
        assert_eq!(facts, Facts { size: [1600, 1200], orientation: 1, focal: None, origin });
        assert_eq!(open("demo", DEMO).unwrap().0.dimensions(), (1600, 1200));
    }

    #[test]
    fn sets_a_turned_picture_upright_and_takes_its_focal_length() {
        let bytes = with_exif(DEMO);
        let (picture, facts) = open("turned", &bytes).unwrap();
        assert_eq!((facts.size, facts.orientation), ([1200, 1600], 6));
        assert_eq!(picture.dimensions(), (1200, 1600));
        // 28 mm on a diagonal of 43.27 mm and 2000 px.
        assert!((facts.focal.unwrap().pixels - 1294.3).abs() < 0.1);
    }

    /// A job from someone else says where its pictures are; a link does not.
    #[cfg(unix)]
    #[test]
    fn no_link_leads_out_of_the_folder() {
        let (home, away) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
        let job = home.path().join("job.toml");
        fs::write(away.path().join("a.jpg"), DEMO).unwrap();
        fs::write(home.path().join("own.jpg"), DEMO).unwrap();
        let link = |name: &str, to: &Path| {
            std::os::unix::fs::symlink(to, home.path().join(name)).unwrap();
        };
        link("out.jpg", &away.path().join("a.jpg"));
        link("folder", away.path());
        link("within.jpg", &home.path().join("own.jpg"));
        for out in ["out.jpg", "folder/a.jpg"] {
            let error = bytes(Some(&job), out).unwrap_err();
            assert!(error.trouble.contains("link out of the job's folder"), "{error}");
        }
        assert!(bytes(Some(&job), "within.jpg").is_ok());
        // Written in full it is read, and a finding says so.
        let full = away.path().join("a.jpg");
        assert!(bytes(Some(&job), full.to_str().unwrap()).is_ok());
    }

    #[test]
    fn refuses_what_is_no_picture_or_too_large() {
        assert!(look("text", b"not a picture").unwrap_err().trouble.contains("no JPEG"));
        let mut huge = png(2, 2);
        // Width and height in the header.
        huge[16..24].copy_from_slice(&[0, 0, 0x80, 0, 0, 0, 0x80, 0]);
        assert!(look("huge", &huge).is_err());
        assert!(open("cut", &DEMO[..300]).is_err());
        assert!(look("cut", &DEMO[..20]).is_err());
    }
}
