//! A part of a picture drawn larger or smaller, to be looked at.

use super::pixels::{Rgb, RgbImage};

/// What lies beside the picture.
const BESIDE: Rgb = Rgb([40, 40, 40]);

/// Most samples of the picture behind one dot, each way.
const SAMPLES: f64 = 4.0;

/// Which part of a picture is drawn, and how large. Places count as marks do:
/// the centre of the top left pixel is (0, 0).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Window {
    /// The place in its middle.
    pub centre: [f64; 2],
    /// Pixels of the picture to one dot, across and down.
    pub step: [f64; 2],
    /// Dots across and down.
    pub size: [u32; 2],
}

impl Window {
    /// The window that shows a whole picture of `picture` pixels in `size`
    /// dots, each `shape` times as high as wide.
    #[must_use]
    pub fn whole(picture: [u32; 2], size: [u32; 2], shape: f64) -> Self {
        let [wide, high] = picture.map(f64::from);
        let across = wide / f64::from(size[0].max(1));
        let down = high / f64::from(size[1].max(1)) / shape;
        let step = across.max(down).max(1e-3);
        let centre = [(wide - 1.0) / 2.0, (high - 1.0) / 2.0];
        Self { centre, step: [step, step * shape], size }
    }

    /// The same part drawn with `times` as many dots each way.
    #[must_use]
    pub fn finer(&self, times: [u32; 2]) -> Self {
        Self {
            step: [self.step[0] / f64::from(times[0]), self.step[1] / f64::from(times[1])],
            size: [self.size[0] * times[0], self.size[1] * times[1]],
            ..*self
        }
    }

    /// The place at the centre of a dot; parts of dots are fine.
    #[must_use]
    pub fn place(&self, dot: [f64; 2]) -> [f64; 2] {
        std::array::from_fn(|i| {
            self.centre[i] + (dot[i] + 0.5 - f64::from(self.size[i]) / 2.0) * self.step[i]
        })
    }

    /// The dot a place falls on, with its part; it may lie outside.
    #[must_use]
    pub fn dot(&self, place: [f64; 2]) -> [f64; 2] {
        std::array::from_fn(|i| {
            (place[i] - self.centre[i]) / self.step[i] + f64::from(self.size[i]) / 2.0 - 0.5
        })
    }

    /// The dot a place falls on, where it is inside.
    #[must_use]
    pub fn inside(&self, place: [f64; 2]) -> Option<[u32; 2]> {
        let dot = self.dot(place).map(f64::round);
        let inside = (0..2).all(|i| dot[i] >= 0.0 && dot[i] < f64::from(self.size[i]));
        inside.then(|| dot.map(|d| d as u32))
    }

    /// Draws it: each dot the mean of up to 16 samples of what it covers;
    /// magnified pixels stay squares.
    #[must_use]
    pub fn draw(&self, picture: &RgbImage) -> RgbImage {
        let columns = self.samples(0, picture.width());
        let rows = self.samples(1, picture.height());
        RgbImage::from_fn(self.size[0], self.size[1], |x, y| {
            mean(picture, &columns[x as usize], &rows[y as usize])
        })
    }

    /// For each dot along one axis the pixels of the picture that are sampled;
    /// none where it lies beside the picture.
    fn samples(&self, axis: usize, side: u32) -> Vec<Vec<u32>> {
        let step = self.step[axis];
        let count = step.ceil().clamp(1.0, SAMPLES);
        let of_dot = |dot: u32| {
            let middle = self.place([f64::from(dot); 2])[axis];
            let places = (0..count as u32)
                .map(|k| (middle + ((f64::from(k) + 0.5) / count - 0.5) * step).round());
            places.filter(|&p| p >= 0.0 && p < f64::from(side)).map(|p| p as u32).collect()
        };
        (0..self.size[axis]).map(of_dot).collect()
    }
}

fn mean(picture: &RgbImage, columns: &[u32], rows: &[u32]) -> Rgb {
    let count = (columns.len() * rows.len()) as u32;
    if count == 0 {
        return BESIDE;
    }
    let mut sum = [0_u32; 3];
    for &y in rows {
        for &x in columns {
            for (all, one) in sum.iter_mut().zip(picture.get_pixel(x, y).0) {
                *all += u32::from(one);
            }
        }
    }
    Rgb(sum.map(|all| ((all + count / 2) / count) as u8))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ramp() -> RgbImage {
        RgbImage::from_fn(40, 20, |x, y| Rgb([(x * 5) as u8, (y * 10) as u8, 0]))
    }

    #[test]
    fn one_dot_to_the_pixel_is_the_picture_itself() {
        let window = Window::whole([40, 20], [40, 20], 1.0);
        assert_eq!(window.draw(&ramp()), ramp());
    }

    #[test]
    fn places_and_dots_are_each_others_inverse() {
        let window = Window { centre: [12.5, 7.0], step: [0.25, 0.5], size: [30, 11] };
        for dot in [[0.0, 0.0], [29.0, 10.0], [3.25, 7.5]] {
            let back = window.dot(window.place(dot));
            assert!((0..2).all(|i| (back[i] - dot[i]).abs() < 1e-9));
        }
        assert_eq!(window.inside([12.5, 7.0]), Some([15, 5]));
        assert_eq!(window.inside([100.0, 7.0]), None);
    }

    #[test]
    fn a_whole_picture_fits_and_what_lies_beside_it_is_plain() {
        let window = Window::whole([40, 20], [10, 10], 2.0);
        assert!((window.step[0] - 4.0).abs() < 1e-9 && (window.step[1] - 8.0).abs() < 1e-9);
        let drawn = window.draw(&ramp());
        assert_eq!(drawn.get_pixel(5, 0), BESIDE);
        // The mean of columns 0 to 3 is 7.5.
        assert_eq!(drawn.get_pixel(0, 5).0[0], 8);
    }

    #[test]
    fn pixels_seen_large_stay_squares() {
        let window = Window { centre: [9.5, 9.5], step: [0.25, 0.25], size: [8, 8] };
        let drawn = window.draw(&ramp());
        assert_eq!(drawn.get_pixel(0, 0), drawn.get_pixel(3, 3));
        assert_ne!(drawn.get_pixel(3, 0), drawn.get_pixel(4, 0));
    }
}
