//! A picture file's bytes -> what it says of itself, and its pixels.
//!
//! The header is looked at before memory is taken. Reading the file itself is
//! done at the edge of the program.

use std::borrow::Cow;
use std::io::Cursor;
use std::path::Path;

use exif::{In, Tag};

use super::decode::{Form, short};
use super::marked::{Focal, Origin};
use super::pixels::RgbImage;
use crate::disk::{self, DiskError};
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

/// Reads the header of a JPEG, PNG, TIFF or WebP picture.
///
/// # Errors
/// When it is none of these, is damaged, or has over [`MOST_PIXELS`].
pub fn look(name: &str, bytes: &[u8]) -> Result<Facts, Stop> {
    let [width, height] = form(name, bytes)?.size(bytes).map_err(|error| {
        let trouble = format!("its header cannot be read ({})", short(&error));
        stop(name, trouble, "save it again as JPEG or PNG")
    })?;
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
    disk::read::bytes(path, MOST_BYTES).map_err(|error| match error {
        DiskError::NoFile { .. } | DiskError::TooLarge { .. } => {
            stop(&name, "it is no file of a usable size", "a picture of up to 512 MB")
        }
        error => stop(&name, error.to_string(), hint),
    })
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

fn form(name: &str, bytes: &[u8]) -> Result<Form, Stop> {
    let none = || {
        stop(name, "it is no JPEG, PNG, TIFF or WebP picture", "save it as JPEG, PNG, TIFF or WebP")
    };
    Form::of(bytes).ok_or_else(none)
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
    let turned = (5..=8).contains(&facts.orientation);
    let [wide, high] = facts.size;
    let size = if turned { [high, wide] } else { [wide, high] };
    let picture = form(name, bytes)?.dots(bytes, size).map_err(|error| {
        let trouble = format!("its pixels are damaged ({})", short(&error));
        stop(name, trouble, "fetch the file again")
    })?;
    Ok((picture.upright(facts.orientation), facts))
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;

    const DEMO: &[u8] = include_bytes!("../../data/demo/photos/A3_cannery_gable.jpg");

    fn png(width: u32, height: u32) -> Vec<u8> {
        let mut bytes = Vec::new();
        let encoder = png::Encoder::new(&mut bytes, width, height);
        let mut writer = encoder.write_header().unwrap();
        writer.write_image_data(&vec![0; (width * height) as usize]).unwrap();
        writer.finish().unwrap();
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

    /// A grey ramp as archives scan it: 8 bits, and 16 bits in colours.
    #[test]
    fn a_scan_as_tiff_is_read() {
        use tiff::encoder::{TiffEncoder, colortype};
        let mut grey = Cursor::new(Vec::new());
        let ramp: Vec<u8> = (0..6).map(|at| at * 40).collect();
        let mut encoder = TiffEncoder::new(&mut grey).unwrap();
        encoder.write_image::<colortype::Gray8>(3, 2, &ramp).unwrap();
        let (picture, facts) = open("scan", grey.get_ref()).unwrap();
        assert_eq!(facts.size, [3, 2]);
        assert_eq!(picture.get_pixel(1, 1).0, [160; 3]);
        let mut deep = Cursor::new(Vec::new());
        let dots: Vec<u16> = (0..12).map(|at| at * 5000).collect();
        let mut encoder = TiffEncoder::new(&mut deep).unwrap();
        encoder.write_image::<colortype::RGB16>(2, 2, &dots).unwrap();
        let (picture, _) = open("scan", deep.get_ref()).unwrap();
        assert_eq!(picture.get_pixel(1, 0).0, [3, 4, 5].map(|at| ((at * 5000) >> 8) as u8));
        let half = &deep.get_ref()[..deep.get_ref().len() / 2];
        assert!(open("half", half).is_err());
    }

    #[test]
    fn a_picture_of_the_web_is_read() {
        let mut bytes = Vec::new();
        let dots: Vec<u8> = (0..12).map(|at| at * 20).collect();
        let encoder = image_webp::WebPEncoder::new(&mut bytes);
        encoder.encode(&dots, 2, 2, image_webp::ColorType::Rgb8).unwrap();
        let (picture, facts) = open("web", &bytes).unwrap();
        assert_eq!((facts.size, picture.as_raw()), ([2, 2], &*dots));
        assert!(open("half", &bytes[..bytes.len() / 2]).is_err());
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
        // Half a picture is no picture.
        let half = open("half", &DEMO[..DEMO.len() / 2]).unwrap_err();
        assert!(half.trouble.contains("ends before the picture does"), "{half}");
    }

    /// A colour profile of 64 MB squeezed into 64 kB is not read at all.
    #[test]
    fn a_swollen_profile_takes_no_memory() {
        let profile = miniz_oxide::deflate::compress_to_vec_zlib(&vec![0; 64 << 20], 1);
        let mut chunk = b"iCCPicc\0\0".to_vec();
        chunk.extend(profile);
        let mut bytes = png(2, 2);
        let mut whole = ((chunk.len() - 4) as u32).to_be_bytes().to_vec();
        whole.extend(&chunk);
        whole.extend(crc(&chunk).to_be_bytes());
        // Behind the header of 8 and 25 bytes.
        bytes.splice(33..33, whole);
        assert_eq!(open("swollen", &bytes).unwrap().0.dimensions(), (2, 2));
    }

    /// The sum of PNG (ISO 15948, annex D).
    fn crc(bytes: &[u8]) -> u32 {
        let step = |sum: u32| if sum & 1 == 1 { sum >> 1 ^ 0xedb8_8320 } else { sum >> 1 };
        let byte = |sum: u32, byte: &u8| (0..8).fold(sum ^ u32::from(*byte), |sum, _| step(sum));
        !bytes.iter().fold(u32::MAX, byte)
    }
}
