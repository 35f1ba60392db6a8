//! Pictures as real pixels: encoded for the terminal's own protocol, and put
//! where the screen leaves room for them.
//!
//! | file | what |
//! |---|---|
//! | `sixel` | dots as sixels |
//! | `shown` | what stands where, and what has to be sent when that changes |
//!
//! The screen is drawn first, with blank cells marked where a picture goes;
//! what is drawn over a picture keeps its place. Sequences: the kitty graphics
//! protocol (its published description of 2026), DEC sixels, and the inline
//! pictures of iTerm2.

mod shown;
mod sixel;

use ratatui::buffer::Cell;
use ratatui::style::Color;

pub use shown::Shown;

use super::picture::Which;
use crate::photo::pixels::RgbImage;

/// A protocol for pictures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Protocol {
    /// Sent once, placed as often as one likes.
    Kitty,
    /// DEC sixels.
    Sixel,
    /// Inline pictures.
    Iterm,
}

/// How a terminal takes pixels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Real {
    /// By which protocol.
    pub protocol: Protocol,
    /// Dots in a cell, across and down.
    pub cell: [u32; 2],
    /// The most dots of a picture, across and down, where the terminal says.
    pub most: Option<[u32; 2]>,
}

/// A picture as a terminal takes it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Encoded {
    /// How it is taken.
    pub real: Real,
    /// Dots across and down.
    pub size: [u32; 2],
    /// What is sent: the base64 of a PNG file, or sixels.
    pub data: String,
}

impl Encoded {
    /// Cells it stands on.
    #[must_use]
    pub fn cells(&self) -> [u16; 2] {
        [0, 1].map(|i| {
            let cells = self.size[i].div_ceil(self.real.cell[i].max(1));
            u16::try_from(cells).unwrap_or(u16::MAX)
        })
    }
}

/// Encodes a picture.
///
/// # Errors
/// When the terminal takes none so large, or the encoder refuses.
pub fn encode(picture: &RgbImage, real: Real) -> Result<Encoded, String> {
    let size = [picture.width(), picture.height()];
    if let Some(most) = real.most
        && (0..2).any(|i| size[i] > most[i])
    {
        let [wide, high] = most;
        return Err(format!("the terminal shows pictures up to {wide} by {high} dots"));
    }
    let data = match real.protocol {
        Protocol::Sixel => sixel::encode(picture),
        Protocol::Kitty | Protocol::Iterm => base64(&png(picture)?),
    };
    Ok(Encoded { real, size, data })
}

fn png(picture: &RgbImage) -> Result<Vec<u8>, String> {
    let mut out = Vec::new();
    let write = |out: &mut Vec<u8>| -> Result<(), png::EncodingError> {
        let mut encoder = png::Encoder::new(out, picture.width(), picture.height());
        encoder.set_color(png::ColorType::Rgb);
        encoder.set_compression(png::Compression::Fastest);
        let mut writer = encoder.write_header()?;
        writer.write_image_data(picture.as_raw())?;
        writer.finish()
    };
    write(&mut out).map_err(|error| format!("the picture cannot be encoded: {error}"))?;
    Ok(out)
}

/// Three bytes as four letters (RFC 4648, section 4).
fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let at = |place: usize| u32::from(three.get(place).copied().unwrap_or(0));
        let bits = at(0) << 16 | at(1) << 8 | at(2);
        for place in 0..4 {
            let letter = LETTERS[(bits >> (18 - 6 * place) & 63) as usize];
            out.push(if place <= three.len() { char::from(letter) } else { '=' });
        }
    }
    out
}

/// The blank that says "a picture stands here": no other text uses it with
/// these colours, and no terminal shows either.
const BLANK: char = '\u{a0}';

fn colour(which: Which) -> Color {
    Color::Indexed(match which {
        Which::Picture => 241,
        Which::Magnifier => 242,
        Which::Wall => 243,
    })
}

/// Leaves a cell to a picture.
pub fn leave(cell: &mut Cell, which: Which) {
    cell.set_char(BLANK).set_fg(colour(which));
}

fn is_left(cell: &Cell, which: Which) -> bool {
    cell.fg == colour(which) && cell.symbol().starts_with(BLANK)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The vectors of RFC 4648, section 10.
    #[test]
    fn letters_of_bytes() {
        for (bytes, letters) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("fooba", "Zm9vYmE="),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(base64(bytes.as_bytes()), letters);
        }
    }

    #[test]
    fn a_picture_too_large_for_the_terminal_is_said() {
        let real = Real { protocol: Protocol::Sixel, cell: [8, 16], most: Some([100, 50]) };
        assert!(encode(&RgbImage::new(101, 10), real).is_err());
        let encoded = encode(&RgbImage::new(100, 50), real).expect("it fits");
        assert_eq!(encoded.cells(), [13, 4]);
    }
}
