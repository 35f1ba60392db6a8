//! A picture in memory: rows of dots, three bytes each.

/// Red, green and blue of a dot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rgb(pub [u8; 3]);

/// A picture, upright or as its file has it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RgbImage {
    wide: u32,
    high: u32,
    dots: Vec<[u8; 3]>,
}

impl RgbImage {
    /// A black picture.
    #[must_use]
    pub fn new(wide: u32, high: u32) -> Self {
        Self::from_pixel(wide, high, Rgb([0; 3]))
    }

    /// A picture of one colour.
    #[must_use]
    pub fn from_pixel(wide: u32, high: u32, dot: Rgb) -> Self {
        Self { wide, high, dots: vec![dot.0; wide as usize * high as usize] }
    }

    /// A picture by the colour of each place, row by row.
    #[must_use]
    pub fn from_fn(wide: u32, high: u32, mut dot: impl FnMut(u32, u32) -> Rgb) -> Self {
        let mut dots = Vec::with_capacity(wide as usize * high as usize);
        for y in 0..high {
            dots.extend((0..wide).map(|x| dot(x, y).0));
        }
        Self { wide, high, dots }
    }

    /// Dots across.
    #[must_use]
    pub fn width(&self) -> u32 {
        self.wide
    }

    /// Dots down.
    #[must_use]
    pub fn height(&self) -> u32 {
        self.high
    }

    /// Dots across and down.
    #[must_use]
    pub fn dimensions(&self) -> (u32, u32) {
        (self.wide, self.high)
    }

    fn place(&self, x: u32, y: u32) -> Option<usize> {
        let inside = x < self.wide && y < self.high;
        inside.then(|| y as usize * self.wide as usize + x as usize)
    }

    /// The dot at a place.
    ///
    /// # Panics
    /// When the place is outside.
    #[must_use]
    pub fn get_pixel(&self, x: u32, y: u32) -> Rgb {
        assert!(x < self.wide, "column {x} of {}", self.wide);
        Rgb(self.dots[y as usize * self.wide as usize + x as usize])
    }

    /// The dot at a place, where there is one.
    #[must_use]
    pub fn get_pixel_checked(&self, x: u32, y: u32) -> Option<Rgb> {
        self.place(x, y).map(|at| Rgb(self.dots[at]))
    }

    /// Sets the dot at a place, where there is one.
    pub fn set(&mut self, x: u32, y: u32, dot: Rgb) {
        if let Some(at) = self.place(x, y) {
            self.dots[at] = dot.0;
        }
    }

    /// The bytes, three a dot, row by row.
    #[must_use]
    pub fn as_raw(&self) -> &[u8] {
        self.dots.as_flattened()
    }

    /// The bytes, to be written.
    pub fn as_raw_mut(&mut self) -> &mut [u8] {
        self.dots.as_flattened_mut()
    }

    /// Each dot with its place, row by row.
    pub fn enumerate_pixels(&self) -> impl Iterator<Item = (u32, u32, Rgb)> {
        let wide = self.wide.max(1) as usize;
        self.dots
            .iter()
            .enumerate()
            .map(move |(at, dot)| ((at % wide) as u32, (at / wide) as u32, Rgb(*dot)))
    }

    /// The picture set upright from the way its file has it: EXIF orientation,
    /// 1 to 8.
    #[must_use]
    pub fn upright(self, orientation: u8) -> Self {
        let (w, h) = (self.wide, self.high);
        let from = |wide, high, place: fn(u32, u32, u32, u32) -> (u32, u32)| {
            Self::from_fn(wide, high, |x, y| {
                let (x, y) = place(x, y, w, h);
                self.get_pixel(x, y)
            })
        };
        match orientation {
            2 => from(w, h, |x, y, w, _| (w - 1 - x, y)),
            3 => from(w, h, |x, y, w, h| (w - 1 - x, h - 1 - y)),
            4 => from(w, h, |x, y, _, h| (x, h - 1 - y)),
            5 => from(h, w, |x, y, _, _| (y, x)),
            6 => from(h, w, |x, y, _, h| (y, h - 1 - x)),
            7 => from(h, w, |x, y, w, h| (w - 1 - y, h - 1 - x)),
            8 => from(h, w, |x, y, w, _| (w - 1 - y, x)),
            _ => self,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Places of the letters of a picture 2 wide and 3 high, as each
    /// orientation of the Exif standard (tag 274) sets it upright.
    #[test]
    fn the_eight_orientations() {
        let of = |rows: &[&str]| {
            let wide = rows[0].len() as u32;
            RgbImage::from_fn(wide, rows.len() as u32, |x, y| {
                Rgb([rows[y as usize].as_bytes()[x as usize]; 3])
            })
        };
        let file = of(&["ab", "cd", "ef"]);
        for (orientation, upright) in [
            (1, of(&["ab", "cd", "ef"])),
            (2, of(&["ba", "dc", "fe"])),
            (3, of(&["fe", "dc", "ba"])),
            (4, of(&["ef", "cd", "ab"])),
            (5, of(&["ace", "bdf"])),
            (6, of(&["eca", "fdb"])),
            (7, of(&["fdb", "eca"])),
            (8, of(&["bdf", "ace"])),
        ] {
            assert_eq!(file.clone().upright(orientation), upright, "orientation {orientation}");
        }
    }

    #[test]
    fn places_outside_have_no_dot() {
        let mut picture = RgbImage::new(2, 2);
        picture.set(5, 0, Rgb([9; 3]));
        picture.set(1, 1, Rgb([7; 3]));
        assert_eq!(picture.get_pixel_checked(2, 0), None);
        assert_eq!(picture.as_raw()[9..], [7, 7, 7]);
    }
}
