//! One straight edge of a picture, found near where it was marked.

use super::pixels::RgbImage;
use nalgebra::{Matrix2, Vector2};

use crate::solve::camera::View;

/// How bright a picture is: one number a pixel, 0 to 255.
#[derive(Clone, Debug)]
pub struct Brightness {
    wide: usize,
    high: usize,
    values: Vec<f32>,
}

impl Brightness {
    /// Of a picture (ITU-R BT.601 weights).
    #[must_use]
    pub fn of(picture: &RgbImage) -> Self {
        let weigh =
            |p: &[u8]| 0.299 * f32::from(p[0]) + 0.587 * f32::from(p[1]) + 0.114 * f32::from(p[2]);
        let values = picture.as_raw().chunks_exact(3).map(weigh).collect();
        Self { wide: picture.width() as usize, high: picture.height() as usize, values }
    }

    /// Between the pixels, bilinearly; the rim repeats outside.
    #[must_use]
    pub fn at(&self, [u, v]: [f64; 2]) -> f32 {
        if self.values.is_empty() {
            return 0.0;
        }
        let (u, v) = (u.clamp(0.0, (self.wide - 1) as f64), v.clamp(0.0, (self.high - 1) as f64));
        let (x, y) = (u as usize, v as usize);
        let (a, b) = ((u - x as f64) as f32, (v - y as f64) as f32);
        let (x1, y1) = ((x + 1).min(self.wide - 1), (y + 1).min(self.high - 1));
        let pixel = |x: usize, y: usize| self.values[y * self.wide + x];
        let top = pixel(x, y) * (1.0 - a) + pixel(x1, y) * a;
        let bottom = pixel(x, y1) * (1.0 - a) + pixel(x1, y1) * a;
        top * (1.0 - b) + bottom * b
    }
}

/// Profiles across one edge.
pub const PROFILES: usize = 60;
/// Places a profile has to the pixel.
const FINE: usize = 4;
/// Width of the smoothing of a profile, in pixels (standard deviation).
const SMOOTH: f64 = 0.9;
/// The least step of brightness that counts as an edge, of 255, to the pixel.
const FAINT: f32 = 1.0;
/// Of the profiles, how many must agree: an edge may pass behind a post.
const QUORUM: usize = PROFILES / 3;
/// How much the distance from the mark counts against an edge.
const NEARNESS: f64 = 0.15;
/// Edges this far apart at both ends, in pixels, are two.
const APART: f64 = 3.0;
/// From this share of the better one's score on, the lesser may be meant.
const ALIKE: f64 = 0.75;
/// Near the corners a profile meets the other edge: this part is left out.
const CORNER: f64 = 0.12;

/// A line in the picture straightened by a [`View`]: normal . p = offset.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// Unit normal.
    pub normal: [f64; 2],
    /// Offset along it.
    pub offset: f64,
    /// Standard uncertainty of the offset in pixels, from the scatter of the
    /// profiles.
    pub sigma: f64,
    /// Profiles that agree.
    pub agree: usize,
}

impl Line {
    /// Where two lines meet; nothing when they are nearly parallel.
    #[must_use]
    pub fn meet(&self, other: &Self) -> Option<[f64; 2]> {
        let m = Matrix2::new(self.normal[0], self.normal[1], other.normal[0], other.normal[1]);
        (m.determinant().abs() > 0.2).then_some(())?;
        let at = m.try_inverse()? * Vector2::new(self.offset, other.offset);
        Some([at.x, at.y])
    }
}

/// The profiles across an edge: slopes of brightness at steps of 1/[`FINE`] px.
struct Profiles {
    slopes: Vec<Vec<f32>>,
    feet: Vec<[f64; 2]>,
    normal: [f64; 2],
    /// Steps on either side of the marked edge.
    side: usize,
}

impl Profiles {
    fn step(&self, offset: f64) -> usize {
        let at = (offset * FINE as f64).round() + self.side as f64;
        at.clamp(0.0, 2.0 * self.side as f64) as usize
    }

    fn offset(&self, step: f64) -> f64 {
        (step - self.side as f64) / FINE as f64
    }
}

/// Which side of an edge is the brighter, seen along its direction.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Polarity {
    /// Brighter on the right: inside a rectangle marked clockwise.
    Inward,
    /// Brighter on the left.
    Outward,
    /// Now the one, now the other: quoins, or a row of fields.
    Changing,
}

impl Polarity {
    /// All three.
    pub const ALL: [Self; 3] = [Self::Inward, Self::Outward, Self::Changing];

    /// A slope as this polarity counts it.
    fn count(self, slope: f32) -> f32 {
        match self {
            Self::Inward => slope,
            Self::Outward => -slope,
            Self::Changing => slope.abs(),
        }
    }
}

/// An edge that may be there.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Likely {
    /// Offsets at both ends from where it was marked.
    ends: [f64; 2],
    /// How well the profiles agree and how near it is: 0 to 1.
    score: f64,
    /// The score of the likeliest edge apart from it, over its own.
    rival: f64,
}

/// Why there is no line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Missing {
    /// No edge stands out.
    Edge,
    /// Two do, nearly as likely: which one was meant cannot be told.
    Choice,
}

/// What stands near a marked edge: the profiles across it, and the likeliest
/// edge of each polarity.
pub struct Near<'v> {
    view: &'v View,
    profiles: Profiles,
    likely: [Option<Likely>; 3],
}

impl<'v> Near<'v> {
    /// Looks along the edge marked from `a` to `b`, within `reach` pixels on
    /// either side, the nearer the likelier with a standard deviation of
    /// `click`. Nothing when it is shorter than 8 px.
    #[must_use]
    pub fn look(
        light: &Brightness,
        view: &'v View,
        ends: [[f64; 2]; 2],
        click: f64,
        reach: f64,
    ) -> Option<Self> {
        let profiles = profiles(light, view, ends, reach)?;
        let likely = Polarity::ALL.map(|polarity| likeliest(&profiles, click, reach, polarity));
        Some(Self { view, profiles, likely })
    }

    /// How likely an edge of a polarity is: 0 to 1.
    #[must_use]
    pub fn score(&self, polarity: Polarity) -> f64 {
        self.likely[polarity as usize].map_or(0.0, |likely| likely.score)
    }

    /// The edge of a polarity: the peak of the slope in each profile by a
    /// parabola, and a robust line through the peaks.
    ///
    /// # Errors
    /// When there is none, or one of two.
    pub fn line(&self, polarity: Polarity) -> Result<Line, Missing> {
        let likely = self.likely[polarity as usize].ok_or(Missing::Edge)?;
        if likely.rival > ALIKE {
            return Err(Missing::Choice);
        }
        let [first, last] = likely.ends;
        let peaks: Vec<[f64; 2]> = (0..PROFILES)
            .filter_map(|i| {
                let along = i as f64 / (PROFILES - 1) as f64;
                let near = first + along * (last - first);
                let offset = peak(&self.profiles, i, near, polarity)?;
                let [x, y] = self.profiles.feet[i];
                let [nx, ny] = self.profiles.normal;
                Some(self.view.straight([x + offset * nx, y + offset * ny]))
            })
            .collect();
        robust_line(&peaks).ok_or(Missing::Edge)
    }
}

fn profiles(
    light: &Brightness,
    view: &View,
    [a, b]: [[f64; 2]; 2],
    reach: f64,
) -> Option<Profiles> {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let length = dx.hypot(dy);
    (length.is_finite() && length >= 8.0).then_some(())?;
    let normal = [-dy / length, dx / length];
    let (from, to) = (view.straight(a), view.straight(b));
    let feet: Vec<[f64; 2]> = (0..PROFILES)
        .map(|i| {
            let part = CORNER + (1.0 - 2.0 * CORNER) * i as f64 / (PROFILES - 1) as f64;
            view.bent([0, 1].map(|k| from[k] + part * (to[k] - from[k])))
        })
        .collect();
    let side = (reach * FINE as f64).ceil() as usize;
    let slopes = feet.iter().map(|&foot| slope(light, foot, normal, side)).collect();
    Some(Profiles { slopes, feet, normal, side })
}

/// Slope of the smoothed brightness along a profile.
fn slope(light: &Brightness, foot: [f64; 2], normal: [f64; 2], side: usize) -> Vec<f32> {
    let half = (3.0 * SMOOTH * FINE as f64).ceil() as usize;
    let kernel: Vec<f32> = (0..=2 * half)
        .map(|k| {
            let t = (k as f64 - half as f64) / FINE as f64;
            let bell = (-0.5 * (t / SMOOTH).powi(2)).exp();
            (t * bell / (SMOOTH.powi(3) * (2.0 * std::f64::consts::PI).sqrt()) / FINE as f64) as f32
        })
        .collect();
    let samples: Vec<f32> = (0..=2 * (side + half))
        .map(|k| {
            let t = (k as f64 - (side + half) as f64) / FINE as f64;
            light.at([foot[0] + t * normal[0], foot[1] + t * normal[1]])
        })
        .collect();
    let along = |window: &[f32]| window.iter().zip(&kernel).map(|(s, k)| s * k).sum();
    samples.windows(kernel.len()).map(along).collect()
}

/// The likeliest edge of one polarity: every line through the profiles is
/// tried, its slopes summed with none counting more than a usual peak, weighed
/// by how far it lies from the mark.
fn likeliest(profiles: &Profiles, click: f64, reach: f64, polarity: Polarity) -> Option<Likely> {
    let cap = usual_peak(profiles, polarity);
    (cap >= FAINT).then_some(())?;
    let steps = (2.0 * reach).round() as i32;
    let mut tried = Vec::new();
    for first in -steps..=steps {
        for last in -steps..=steps {
            let ends = [0.5 * f64::from(first), 0.5 * f64::from(last)];
            let far = (ends[0] / click).powi(2) + (ends[1] / click).powi(2);
            let agreed = along(profiles, ends, polarity, cap) / PROFILES as f64;
            tried.push((agreed * (-NEARNESS * far).exp(), ends));
        }
    }
    let &(score, ends) = tried.iter().max_by(|a, b| a.0.total_cmp(&b.0))?;
    let apart = |other: [f64; 2]| (0..2).all(|k| (other[k] - ends[k]).abs() >= APART);
    let rivals = tried.iter().filter(|(_, other)| apart(*other)).map(|(score, _)| *score);
    let rival = rivals.fold(0.0, f64::max) / score;
    (score > 0.0).then_some(Likely { ends, score, rival })
}

/// The middle one of the highest slopes of the profiles.
fn usual_peak(profiles: &Profiles, polarity: Polarity) -> f32 {
    let highest = |row: &Vec<f32>| row.iter().fold(0.0_f32, |most, s| most.max(polarity.count(*s)));
    let mut peaks: Vec<f32> = profiles.slopes.iter().map(highest).collect();
    peaks.sort_by(f32::total_cmp);
    peaks.get(PROFILES / 2).copied().unwrap_or(0.0)
}

fn along(profiles: &Profiles, [first, last]: [f64; 2], polarity: Polarity, cap: f32) -> f64 {
    let sum: f32 = (0..PROFILES)
        .map(|i| {
            let offset = first + (last - first) * i as f64 / (PROFILES - 1) as f64;
            (polarity.count(profiles.slopes[i][profiles.step(offset)]) / cap).clamp(-1.0, 1.0)
        })
        .sum();
    f64::from(sum)
}

/// The peak of one profile nearest to an offset, within 1.25 px, by a parabola
/// through its three highest places.
fn peak(profiles: &Profiles, i: usize, near: f64, polarity: Polarity) -> Option<f64> {
    let row = &profiles.slopes[i];
    let middle = profiles.step(near);
    let around = FINE + FINE / 4;
    let range = middle.saturating_sub(around).max(1)..=(middle + around).min(row.len() - 2);
    let value = |k: usize| polarity.count(row[k]);
    let top = range.max_by(|&a, &b| value(a).total_cmp(&value(b)))?;
    let (before, here, after) = (value(top - 1), value(top), value(top + 1));
    let peaked = here >= before && here >= after && here > FAINT;
    let bend = before - 2.0 * here + after;
    (peaked && bend < 0.0)
        .then(|| profiles.offset(top as f64 + f64::from(0.5 * (before - after) / bend)))
}

/// A line through points by least squares with Tukey's biweight, its scale
/// from the median deviation (P. J. Huber, *Robust Statistics*, 1981).
fn robust_line(points: &[[f64; 2]]) -> Option<Line> {
    (points.len() >= QUORUM).then_some(())?;
    let mut weights = vec![1.0; points.len()];
    let mut line = None;
    for _ in 0..12 {
        let (normal, offset) = weighed_line(points, &weights)?;
        let off = |p: &[f64; 2]| normal[0] * p[0] + normal[1] * p[1] - offset;
        let mut sizes: Vec<f64> = points.iter().map(|p| off(p).abs()).collect();
        sizes.sort_by(f64::total_cmp);
        let scale = (1.4826 * sizes[sizes.len() / 2]).max(0.05);
        let bound = 4.685 * scale;
        for (weight, point) in weights.iter_mut().zip(points) {
            let r = off(point) / bound;
            *weight = if r.abs() < 1.0 { (1.0 - r * r).powi(2) } else { 0.0 };
        }
        let agree = weights.iter().filter(|w| **w > 0.0).count();
        let sigma = scale / (agree.max(1) as f64).sqrt();
        line = Some(Line { normal, offset, sigma, agree });
    }
    line.filter(|line| line.agree >= QUORUM)
}

fn weighed_line(points: &[[f64; 2]], weights: &[f64]) -> Option<([f64; 2], f64)> {
    let total: f64 = weights.iter().sum();
    (total > 2.0).then_some(())?;
    let mean = |k: usize| points.iter().zip(weights).map(|(p, w)| w * p[k]).sum::<f64>() / total;
    let middle = [mean(0), mean(1)];
    let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
    for (p, w) in points.iter().zip(weights) {
        let (x, y) = (p[0] - middle[0], p[1] - middle[1]);
        xx += w * x * x;
        xy += w * x * y;
        yy += w * y * y;
    }
    // Direction of the largest spread; the normal stands across it.
    let angle = 0.5 * (2.0 * xy).atan2(xx - yy);
    let normal = [-angle.sin(), angle.cos()];
    Some((normal, normal[0] * middle[0] + normal[1] * middle[1]))
}
