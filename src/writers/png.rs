//! A page as a picture, to look at before paper is spent.

use super::glyphs::{Stroke, strokes};
use crate::drawing::shape::{Item, Shape};
use crate::drawing::{Block, Page, Point, Run};
use crate::finding::Stop;

/// Most dots of a picture, each way.
const MOST: f64 = 8000.0;

/// A page as the bytes of a PNG file, so many dots to the inch.
///
/// # Errors
/// When the picture would be too large.
pub fn write(page: &Page, dots_per_inch: u32) -> Result<Vec<u8>, Stop> {
    let picture = picture(page, dots_per_inch)?;
    let mut out = Vec::new();
    let write = |out: &mut Vec<u8>| -> Result<(), png::EncodingError> {
        let mut encoder = png::Encoder::new(out, picture.wide, picture.high);
        encoder.set_color(png::ColorType::Grayscale);
        let mut writer = encoder.write_header()?;
        writer.write_image_data(&picture.dots)?;
        writer.finish()
    };
    write(&mut out).map_err(|error| Stop::new("drawing the page", error.to_string(), ""))?;
    Ok(out)
}

/// Dots from black to white, row by row.
struct Grey {
    wide: u32,
    high: u32,
    dots: Vec<u8>,
}

impl Grey {
    fn white(wide: u32, high: u32) -> Self {
        Self { wide, high, dots: vec![255; wide as usize * high as usize] }
    }

    fn dot_mut(&mut self, x: u32, y: u32) -> Option<&mut u8> {
        let inside = x < self.wide && y < self.high;
        inside.then(|| &mut self.dots[y as usize * self.wide as usize + x as usize])
    }
}

/// The page drawn in grey.
fn picture(page: &Page, dots_per_inch: u32) -> Result<Grey, Stop> {
    let dots = f64::from(dots_per_inch) / 25.4;
    let size = [page.format.printed.width(), page.format.printed.height()];
    let [wide, high] = size.map(|length| (length.in_millimetres() * dots).ceil());
    if !(wide >= 1.0 && high >= 1.0 && wide <= MOST && high <= MOST) {
        return Err(Stop::new(
            "drawing the page",
            format!("a picture of {wide:.0} by {high:.0} dots is too large"),
            "ask for fewer dots to the inch",
        ));
    }
    let mut ink = Ink { image: Grey::white(wide as u32, high as u32), dots, high };
    for block in &page.blocks {
        ink.block(block);
    }
    Ok(ink.image)
}

struct Ink {
    image: Grey,
    dots: f64,
    high: f64,
}

/// Where ink may fall, in dots: left, top, right, foot.
type Window = [f64; 4];

impl Ink {
    fn at(&self, point: Point) -> [f64; 2] {
        let [x, y] = point.in_mm();
        [x * self.dots, self.high - y * self.dots]
    }

    fn block(&mut self, block: &Block) {
        let (wide, high) = (f64::from(self.image.wide), f64::from(self.image.high));
        let window = block.clip.map_or([0.0, 0.0, wide, high], |clip| {
            let ([left, foot], [right, top]) = (self.at(clip.least), self.at(clip.most));
            [left.max(0.0), top.max(0.0), right.min(wide), foot.min(high)]
        });
        for item in &block.drawing.items {
            self.item(item, window);
        }
    }

    fn item(&mut self, item: &Item, window: Window) {
        match &item.shape {
            Shape::Line { points, run, dashed } => {
                let pen = item.layer.pen().in_millimetres() * self.dots;
                let mut corners: Vec<[f64; 2]> =
                    points.iter().map(|point| self.at(*point)).collect();
                if *run != Run::Open {
                    corners.extend(corners.first().copied());
                }
                for pair in corners.windows(2) {
                    self.stroke(pair[0], pair[1], pen.max(1.0), *dashed, window);
                }
            }
            Shape::Text { .. } => self.fill(&self.flattened(&strokes(&item.shape)), window),
        }
    }

    /// A line by how near each dot lies to it.
    fn stroke(&mut self, a: [f64; 2], b: [f64; 2], pen: f64, dashed: bool, window: Window) {
        let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
        let length = dx.hypot(dy);
        if length < 1e-9 {
            return;
        }
        let reach = pen / 2.0 + 1.0;
        let dash = 2.0 * self.dots;
        // Along the longer way, one column or row of dots at a time.
        let steep = dy.abs() > dx.abs();
        let (from, to) =
            if steep { (a[1].min(b[1]), a[1].max(b[1])) } else { (a[0].min(b[0]), a[0].max(b[0])) };
        let (low, high) = if steep { (window[1], window[3]) } else { (window[0], window[2]) };
        let first = (from - reach).max(low).floor() as i64;
        let last = (to + reach).min(high).ceil() as i64;
        for major in first..last {
            let along = if steep {
                (major as f64 + 0.5 - a[1]) / dy
            } else {
                (major as f64 + 0.5 - a[0]) / dx
            };
            let middle = if steep { a[0] + dx * along } else { a[1] + dy * along };
            let spread = (reach * length / dx.abs().max(dy.abs())).ceil() as i64;
            for minor in (middle as i64 - spread)..=(middle as i64 + spread) {
                let (x, y) = if steep { (minor, major) } else { (major, minor) };
                let at = [x as f64 + 0.5, y as f64 + 0.5];
                let share = (((at[0] - a[0]) * dx + (at[1] - a[1]) * dy) / (length * length))
                    .clamp(0.0, 1.0);
                if dashed && (share * length / dash).fract() > 0.65 {
                    continue;
                }
                let near = (at[0] - a[0] - dx * share).hypot(at[1] - a[1] - dy * share);
                self.dot(x, y, (pen / 2.0 + 0.5 - near).clamp(0.0, 1.0), window);
            }
        }
    }

    fn flattened(&self, strokes: &[Stroke]) -> Vec<[[f64; 2]; 2]> {
        let mut edges = Vec::with_capacity(strokes.len() * 3);
        for stroke in strokes {
            match stroke {
                Stroke::Line(a, b) => edges.push([self.at(*a), self.at(*b)]),
                Stroke::Curve(a, b, c) => {
                    let [a, b, c] = [*a, *b, *c].map(|point| self.at(point));
                    let on = |t: f64| {
                        let (p, q, r) = ((1.0 - t) * (1.0 - t), 2.0 * t * (1.0 - t), t * t);
                        [p * a[0] + q * b[0] + r * c[0], p * a[1] + q * b[1] + r * c[1]]
                    };
                    edges.extend(
                        (0..4).map(|n| [on(f64::from(n) / 4.0), on(f64::from(n + 1) / 4.0)]),
                    );
                }
            }
        }
        edges
    }

    /// What lies inside the edges, by five lines of each row of dots.
    fn fill(&mut self, edges: &[[[f64; 2]; 2]], window: Window) {
        const LINES: u32 = 5;
        let ys = edges.iter().flatten().map(|point| point[1]);
        let (top, foot) = ys.fold((f64::MAX, f64::MIN), |(low, high), y| (low.min(y), high.max(y)));
        let rows = (top.max(window[1]).floor() as i64)..(foot.min(window[3]).ceil() as i64);
        let mut cover: std::collections::BTreeMap<i64, f64> = std::collections::BTreeMap::new();
        for row in rows {
            cover.clear();
            for line in 0..LINES {
                let y = row as f64 + (f64::from(line) + 0.5) / f64::from(LINES);
                for (left, right) in inside(edges, y) {
                    for x in (left.floor() as i64)..(right.ceil() as i64) {
                        let share = right.min(x as f64 + 1.0) - left.max(x as f64);
                        *cover.entry(x).or_default() += share.max(0.0) / f64::from(LINES);
                    }
                }
            }
            for (x, share) in &cover {
                self.dot(*x, row, share.min(1.0), window);
            }
        }
    }

    fn dot(&mut self, x: i64, y: i64, share: f64, window: Window) {
        let inside = x as f64 >= window[0].floor()
            && (x as f64) < window[2]
            && y as f64 >= window[1].floor()
            && (y as f64) < window[3];
        let place = (u32::try_from(x), u32::try_from(y));
        if let (true, (Ok(x), Ok(y))) = (inside && share > 0.0, place)
            && let Some(grey) = self.image.dot_mut(x, y)
        {
            *grey = (f64::from(*grey) * (1.0 - share)).round() as u8;
        }
    }
}

/// Stretches of a level line inside the edges, by their winding.
fn inside(edges: &[[[f64; 2]; 2]], y: f64) -> Vec<(f64, f64)> {
    let mut crossings: Vec<(f64, i32)> = edges
        .iter()
        .filter(|[a, b]| (a[1] <= y) != (b[1] <= y))
        .map(|[a, b]| {
            let x = a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0]);
            (x, if a[1] < b[1] { 1 } else { -1 })
        })
        .collect();
    crossings.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut winding = 0;
    let mut stretches = Vec::new();
    for pair in crossings.windows(2) {
        winding += pair[0].1;
        if winding != 0 {
            stretches.push((pair[0].0, pair[1].0));
        }
    }
    stretches
}
