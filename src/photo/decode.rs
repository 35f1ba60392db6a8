//! The bytes of a picture file -> its size, and its dots.

use std::borrow::Cow;
use std::io::Cursor;

use png::{ColorType, Transformations};
use zune_jpeg::JpegDecoder;
use zune_jpeg::zune_core::bytestream::ZCursor;
use zune_jpeg::zune_core::colorspace::ColorSpace;
use zune_jpeg::zune_core::options::DecoderOptions;

use super::pixels::RgbImage;

/// A form of picture file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Form {
    /// JPEG.
    Jpeg,
    /// PNG.
    Png,
    /// TIFF, as archives scan.
    Tiff,
    /// WebP, as web pages have it.
    Webp,
}

impl Form {
    /// The form by the first bytes; nothing for another.
    pub(super) fn of(bytes: &[u8]) -> Option<Self> {
        match bytes {
            [0xff, 0xd8, 0xff, ..] => Some(Self::Jpeg),
            [0x89, b'P', b'N', b'G', 0x0d, 0x0a, 0x1a, 0x0a, ..] => Some(Self::Png),
            [b'I', b'I', 42, 0, ..] | [b'M', b'M', 0, 42, ..] => Some(Self::Tiff),
            [b'R', b'I', b'F', b'F', _, _, _, _, b'W', b'E', b'B', b'P', ..] => Some(Self::Webp),
            _ => None,
        }
    }

    /// Width and height by the header, before memory is taken.
    pub(super) fn size(self, bytes: &[u8]) -> Result<[u32; 2], String> {
        match self {
            Self::Jpeg => {
                let mut decoder = jpeg(bytes);
                decoder.decode_headers().map_err(|error| format!("{error:?}"))?;
                let info = decoder.info().ok_or("it has no header of a picture")?;
                Ok([info.width, info.height].map(u32::from))
            }
            Self::Png => {
                let mut decoder = png(bytes, u64::MAX);
                let info = decoder.read_header_info().map_err(|error| error.to_string())?;
                Ok([info.width, info.height])
            }
            Self::Tiff => {
                let size = tiff(bytes)?.dimensions().map_err(|error| error.to_string())?;
                Ok(size.into())
            }
            Self::Webp => {
                let (wide, high) = webp(bytes)?.dimensions();
                Ok([wide, high])
            }
        }
    }

    /// The dots, as the file has them. `size` is that of the header.
    pub(super) fn dots(self, bytes: &[u8], size: [u32; 2]) -> Result<RgbImage, String> {
        match self {
            Self::Jpeg => jpeg_dots(bytes, size),
            Self::Png => png_dots(bytes, size),
            Self::Tiff => tiff_dots(bytes, size),
            Self::Webp => webp_dots(bytes, size),
        }
    }
}

fn jpeg(bytes: &[u8]) -> JpegDecoder<ZCursor<&[u8]>> {
    let widest = usize::from(u16::MAX);
    let options = DecoderOptions::default()
        .set_max_width(widest)
        .set_max_height(widest)
        .jpeg_set_out_colorspace(ColorSpace::RGB);
    JpegDecoder::new_with_options(ZCursor::new(bytes), options)
}

fn jpeg_dots(bytes: &[u8], [wide, high]: [u32; 2]) -> Result<RgbImage, String> {
    if !is_whole(bytes) {
        return Err("the file ends before the picture does".to_owned());
    }
    let mut picture = RgbImage::new(wide, high);
    jpeg(bytes).decode_into(picture.as_raw_mut()).map_err(|error| format!("{error:?}"))?;
    Ok(picture)
}

/// Whether a JPEG comes to its end marker (ITU-T T.81, B.1): segments by their
/// lengths, coded data up to the next marker that is none of a restart.
fn is_whole(bytes: &[u8]) -> bool {
    const SCAN: u8 = 0xda;
    const END: u8 = 0xd9;
    let mut at = 2;
    loop {
        // Markers may be led by any number of filling bytes.
        let Some(offset) = bytes.get(at..).and_then(next_marker) else { return false };
        at += offset;
        let Some(marker) = bytes.get(at).copied() else { return false };
        at += 1;
        match marker {
            END => return true,
            // Alone, without a length.
            0x01 | 0xd0..=0xd8 => {}
            _ => {
                let Some(&[high, low]) = bytes.get(at..at + 2).and_then(|two| two.first_chunk())
                else {
                    return false;
                };
                at += usize::from(u16::from_be_bytes([high, low])).max(2);
                if marker == SCAN {
                    let Some(end) = bytes.get(at..).and_then(end_of_data) else { return false };
                    at += end;
                }
            }
        }
    }
}

/// How far it is to the byte behind the next 0xff that is no filling.
fn next_marker(bytes: &[u8]) -> Option<usize> {
    let led = bytes.iter().position(|byte| *byte == 0xff)?;
    let behind = bytes[led..].iter().position(|byte| *byte != 0xff)?;
    Some(led + behind)
}

/// How far coded data reach: up to a marker that is neither a stuffed byte nor
/// a restart.
fn end_of_data(bytes: &[u8]) -> Option<usize> {
    let ends = |pair: &[u8]| pair[0] == 0xff && !matches!(pair[1], 0x00 | 0xff | 0xd0..=0xd7);
    bytes.windows(2).position(ends)
}

fn png(bytes: &[u8], most: u64) -> png::Decoder<Cursor<&[u8]>> {
    let mut decoder = png::Decoder::new(Cursor::new(bytes));
    // Profiles and texts may swell to a thousand times their size in the file.
    decoder.set_ignore_iccp_chunk(true);
    decoder.set_ignore_text_chunk(true);
    decoder.set_limits(png::Limits { bytes: usize::try_from(most).unwrap_or(usize::MAX) });
    decoder.set_transformations(Transformations::normalize_to_color8());
    decoder
}

/// Bytes the decoder may take beside the picture itself.
const BESIDE: u64 = 64 * 1024 * 1024;

fn png_dots(bytes: &[u8], [wide, high]: [u32; 2]) -> Result<RgbImage, String> {
    let told = |error: png::DecodingError| error.to_string();
    let most = 8 * u64::from(wide) * u64::from(high) + BESIDE;
    let mut reader = png(bytes, most).read_info().map_err(told)?;
    let mut picture = RgbImage::new(wide, high);
    let (color, _) = reader.output_color_type();
    if color == ColorType::Rgb {
        reader.next_frame(picture.as_raw_mut()).map_err(told)?;
        return Ok(picture);
    }
    let size = reader.output_buffer_size().ok_or("it is too large")?;
    let mut raw = vec![0; size];
    reader.next_frame(&mut raw).map_err(told)?;
    put(&mut picture, &raw, color.samples());
    Ok(picture)
}

/// Dots of one, two (grey), three, four or more samples into a picture; what is
/// beside red, green and blue is left out.
fn put(picture: &mut RgbImage, raw: &[u8], samples: usize) {
    let dots = picture.as_raw_mut().chunks_exact_mut(3);
    for (dot, from) in dots.zip(raw.chunks_exact(samples.max(1))) {
        match from {
            [grey] | [grey, _] => dot.fill(*grey),
            [red, green, blue, ..] => dot.copy_from_slice(&[*red, *green, *blue]),
            [] => {}
        }
    }
}

fn tiff(bytes: &[u8]) -> Result<tiff::decoder::Decoder<Cursor<&[u8]>>, String> {
    tiff::decoder::Decoder::new(Cursor::new(bytes)).map_err(|error| error.to_string())
}

/// Grey and colours of 8 and 16 bits, as scanners write them.
fn tiff_dots(bytes: &[u8], [wide, high]: [u32; 2]) -> Result<RgbImage, String> {
    use tiff::decoder::{DecodingResult, Limits};
    let told = |error: tiff::TiffError| error.to_string();
    let mut limits = Limits::default();
    let most = 8 * u64::from(wide) * u64::from(high) + BESIDE;
    limits.decoding_buffer_size = usize::try_from(most).unwrap_or(usize::MAX);
    limits.intermediate_buffer_size = limits.decoding_buffer_size;
    let mut decoder = tiff(bytes)?.with_limits(limits);
    let color = decoder.colortype().map_err(told)?;
    let samples = match color {
        tiff::ColorType::Gray(8 | 16) => 1,
        tiff::ColorType::GrayA(8 | 16) => 2,
        tiff::ColorType::RGB(8 | 16) => 3,
        tiff::ColorType::RGBA(8 | 16) => 4,
        other => return Err(format!("{other:?} is not read: grey or RGB of 8 or 16 bits is")),
    };
    let raw = match decoder.read_image().map_err(told)? {
        DecodingResult::U8(raw) => raw,
        DecodingResult::U16(raw) => raw.into_iter().map(|value| (value >> 8) as u8).collect(),
        _ => return Err("its samples are no whole numbers".to_owned()),
    };
    let mut picture = RgbImage::new(wide, high);
    if raw.len() != wide as usize * high as usize * samples {
        return Err("it has more or fewer dots than it says".to_owned());
    }
    put(&mut picture, &raw, samples);
    Ok(picture)
}

fn webp(bytes: &[u8]) -> Result<image_webp::WebPDecoder<Cursor<&[u8]>>, String> {
    image_webp::WebPDecoder::new(Cursor::new(bytes)).map_err(|error| error.to_string())
}

fn webp_dots(bytes: &[u8], [wide, high]: [u32; 2]) -> Result<RgbImage, String> {
    let mut decoder = webp(bytes)?;
    let samples = if decoder.has_alpha() { 4 } else { 3 };
    let mut picture = RgbImage::new(wide, high);
    if samples == 3 {
        decoder.read_image(picture.as_raw_mut()).map_err(|error| error.to_string())?;
        return Ok(picture);
    }
    let size = decoder.output_buffer_size().ok_or("it is too large")?;
    let mut raw = vec![0; size];
    decoder.read_image(&mut raw).map_err(|error| error.to_string())?;
    put(&mut picture, &raw, samples);
    Ok(picture)
}

/// The trouble of a decoder in few words.
pub(super) fn short(trouble: &str) -> Cow<'_, str> {
    let line = trouble.lines().next().unwrap_or_default();
    if line.chars().count() > 120 {
        line.chars().take(120).collect::<String>().into()
    } else {
        line.into()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_jpeg_is_whole_when_it_comes_to_its_end() {
        // Start, a comment that holds an end marker, a scan, a restart, the end.
        let whole = b"\xff\xd8\xff\xfe\0\x04\xff\xd9\xff\xda\0\x02ab\xff\0\xff\xd0cd\xff\xd9";
        assert!(is_whole(whole));
        for end in 3..whole.len() - 1 {
            assert!(!is_whole(&whole[..end]), "cut at {end}");
        }
    }
}
