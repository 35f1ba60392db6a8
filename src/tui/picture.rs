//! Work on the photograph in sight that is too slow for the screen: opening
//! it, drawing parts of it, encoding them for the terminal, squaring the wall,
//! trying a mark that is being moved. Each task holds all it needs.

use std::fmt;
use std::path::PathBuf;
use std::sync::Arc;

use super::pixels::{self, Encoded, Real};
use crate::finding::Stop;
use crate::job::photo::Photo;
use crate::photo::edge::Brightness;
use crate::photo::from_job::{self, FIRST_ORDER, Shot};
use crate::photo::lengths::solve;
use crate::photo::picture::{self, Facts};
use crate::photo::pixels::{Rgb, RgbImage};
use crate::photo::rectify::{self, Region};
use crate::photo::refine::refine;
use crate::photo::window::Window;

/// A picture in memory.
pub struct Opened {
    /// The file as the job names it.
    pub file: String,
    /// Its pixels, upright.
    pub pixels: RgbImage,
    /// What the file says of itself.
    pub facts: Facts,
}

impl fmt::Debug for Opened {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {:?}", self.file, self.facts.size)
    }
}

/// How pictures come to the terminal.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Print {
    /// As cells: half blocks, or signs of different weight without colours.
    #[default]
    Cells,
    /// As real pixels, in the protocol that the terminal knows.
    Pixels(Real),
}

impl Print {
    /// Height of a cell over its width.
    #[must_use]
    pub fn shape(&self) -> f64 {
        match self {
            Self::Cells => 2.0,
            Self::Pixels(real) => f64::from(real.cell[1].max(1)) / f64::from(real.cell[0].max(1)),
        }
    }

    /// Dots in a cell, across and down.
    #[must_use]
    pub fn dots(&self) -> [u32; 2] {
        match self {
            Self::Cells => [1, 2],
            Self::Pixels(real) => real.cell.map(|dots| dots.max(1)),
        }
    }
}

/// Which pane something is drawn for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Which {
    /// The picture.
    Picture,
    /// The magnifier.
    Magnifier,
    /// The wall as if seen squarely.
    Wall,
}

/// One pane to draw.
#[derive(Clone, Debug)]
pub struct Wish {
    /// For which pane.
    pub which: Which,
    /// Cells across and down.
    pub cells: [u16; 2],
    /// What part, counted in cells; nothing for the wall.
    pub part: Option<Window>,
}

/// What is drawn into the pixels where no letters can lie over them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Overlay {
    /// Lines between marks.
    pub lines: Vec<[[f64; 2]; 2]>,
    /// Marks, and how each is told apart.
    pub marks: Vec<([f64; 2], Tone)>,
    /// The cross-hair.
    pub cross: Option<[f64; 2]>,
}

/// What kind of mark it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tone {
    /// A mark.
    Plain,
    /// The one that is being moved.
    Held,
    /// The one that fits worst.
    Worst,
    /// Set, but not yet part of anything.
    Pending,
}

/// What to draw of a picture.
#[derive(Clone, Debug)]
pub struct Request {
    /// The number to answer with.
    pub number: u64,
    /// The picture.
    pub opened: Arc<Opened>,
    /// How.
    pub print: Print,
    /// Which parts.
    pub wishes: Vec<Wish>,
    /// What lies over it; only drawn into real pixels.
    pub overlay: Overlay,
    /// The photograph with its marks, for the wall.
    pub photo: Arc<Photo>,
}

/// Something to be done on the worker for pictures.
#[derive(Clone, Debug)]
pub enum Task {
    /// Opens a picture of the job.
    Open {
        /// The job's file.
        job: Option<PathBuf>,
        /// The picture's file.
        file: String,
    },
    /// Draws panes.
    Draw(Box<Request>),
    /// Measures a photograph with a mark at another place, at first order.
    Try {
        /// The number to answer with.
        number: u64,
        /// The photograph's name.
        id: String,
        /// The photographs of its file: other walls of the picture go with it.
        photos: Arc<Vec<Photo>>,
    },
    /// Moves the marks of a photograph to where its edges meet.
    Refine {
        /// The photograph.
        photo: Arc<Photo>,
        /// Its picture.
        opened: Arc<Opened>,
    },
}

/// What a task has to say.
#[derive(Clone, Debug)]
pub enum News {
    /// A picture is open, or why not.
    Opened(String, Result<Arc<Opened>, String>),
    /// Panes are drawn.
    Drawn(u64, Arc<Vec<Drawn>>),
    /// What a mark at another place comes to.
    Tried(u64, Result<Arc<Shot>, String>),
    /// Marks of a photograph at the edges, or why not.
    Refined(String, Result<AtEdges, String>),
}

/// Marks where the edges of the picture meet.
#[derive(Clone, Debug)]
pub struct AtEdges {
    /// Those that moved, by name, and where to.
    pub moved: Vec<(String, [f64; 2])>,
    /// How many stay where the hand put them.
    pub stayed: usize,
}

/// A pane as drawn.
#[derive(Clone)]
pub struct Drawn {
    /// Which.
    pub which: Which,
    /// What part, counted in cells.
    pub part: Option<Window>,
    /// Of a wall: metres to one cell across.
    pub per_cell: f64,
    /// How it looks, or why it cannot be drawn.
    pub ink: Result<Ink, String>,
}

impl fmt::Debug for Drawn {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:?} {:?}", self.which, self.part)
    }
}

/// How a pane looks.
#[derive(Clone)]
pub enum Ink {
    /// Two dots to the cell, one over the other.
    Dots(RgbImage),
    /// Encoded for the terminal.
    Encoded(Arc<Encoded>),
}

/// Does a task.
#[must_use]
pub fn work(task: Task) -> News {
    match task {
        Task::Open { job, file } => {
            let opened = picture::bytes(job.as_deref(), &file)
                .and_then(|bytes| picture::open(&file, &bytes))
                .map(|(pixels, facts)| Arc::new(Opened { file: file.clone(), pixels, facts }));
            News::Opened(file, opened.map_err(|stop| stop.told()))
        }
        Task::Draw(request) => {
            let drawn = request.wishes.iter().map(|wish| draw(&request, wish));
            News::Drawn(request.number, Arc::new(drawn.collect()))
        }
        Task::Try { number, id, photos } => {
            let seen = from_job::each(&photos, FIRST_ORDER);
            let shot = seen.into_iter().find(|seen| seen.photo == id).map(|seen| seen.shot);
            let shot =
                shot.unwrap_or_else(|| Err(Stop::new("measuring", "there are no marks", "")));
            News::Tried(number, shot.map(Arc::new).map_err(|stop| stop.told()))
        }
        Task::Refine { photo, opened } => {
            News::Refined(photo.id.clone(), refined(&photo, &opened).map_err(|stop| stop.told()))
        }
    }
}

fn refined(photo: &Photo, opened: &Opened) -> Result<AtEdges, Stop> {
    let marked = from_job::marked(photo)?;
    let refined = refine(&marked, &Brightness::of(&opened.pixels));
    let moved = refined.moves.iter().filter_map(|one| {
        let to = one.new.ok()?;
        Some((marked.marks[one.mark].id.clone(), to))
    });
    let moved: Vec<_> = moved.collect();
    let stayed = refined.moves.len() - moved.len();
    Ok(AtEdges { moved, stayed })
}

fn draw(request: &Request, wish: &Wish) -> Drawn {
    let dots = request.print.dots();
    match wish.part {
        Some(part) => {
            let window = part.finer(dots);
            let mut pixels = window.draw(&request.opened.pixels);
            if matches!(request.print, Print::Pixels(_)) {
                lay_over(&request.overlay, &window, &mut pixels);
            }
            let ink = ink(request.print, pixels);
            Drawn { which: wish.which, part: Some(part), per_cell: 0.0, ink }
        }
        None => match wall(request, wish) {
            Ok((pixels, per_cell)) => {
                let ink = ink(request.print, pixels);
                Drawn { which: wish.which, part: None, per_cell, ink }
            }
            Err(stop) => {
                Drawn { which: wish.which, part: None, per_cell: 0.0, ink: Err(stop.told()) }
            }
        },
    }
}

fn ink(print: Print, pixels: RgbImage) -> Result<Ink, String> {
    match print {
        Print::Cells => Ok(Ink::Dots(pixels)),
        Print::Pixels(real) => {
            pixels::encode(&pixels, real).map(|encoded| Ink::Encoded(Arc::new(encoded)))
        }
    }
}

/// How much finer the wall is redrawn than shown, so that fine lines do not
/// break up.
const FINER: u32 = 3;

/// The wall as if seen squarely, in the dots of a pane, and metres to a cell.
fn wall(request: &Request, wish: &Wish) -> Result<(RgbImage, f64), Stop> {
    let solution = solve(&from_job::marked(&request.photo)?)?;
    let region = Region::round_the_marks(&solution);
    let [dots_x, dots_y] = request.print.dots();
    let room = [u32::from(wish.cells[0]) * dots_x, u32::from(wish.cells[1]) * dots_y];
    // A dot is as high as wide only as far as the cell allows.
    let tall = request.print.shape() * f64::from(dots_x) / f64::from(dots_y);
    let wide = f64::from(room[0]) / (region.x[1] - region.x[0]);
    let high = f64::from(room[1]) * tall / (region.y[1] - region.y[0]);
    let per_unit = wide.min(high);
    let fine = f64::from(FINER);
    let squared = rectify::run(&solution, &request.opened.pixels, region, per_unit * fine)?;
    let size = [squared.picture.width(), squared.picture.height()].map(f64::from);
    let step = [fine, fine * tall];
    let window = Window {
        // Its upper left corner in the upper left corner of the pane.
        centre: [0, 1].map(|i| f64::from(room[i]) * step[i] / 2.0 - 0.5),
        step,
        size: [
            ((size[0] / step[0]).ceil() as u32).clamp(1, room[0]),
            ((size[1] / step[1]).ceil() as u32).clamp(1, room[1]),
        ],
    };
    let centre = [0, 1].map(|i| f64::from(window.size[i]) * step[i] / 2.0 - 0.5);
    let pixels = Window { centre, ..window }.draw(&squared.picture);
    Ok((pixels, f64::from(dots_x) / per_unit))
}

impl Tone {
    fn color(self) -> Rgb {
        match self {
            Self::Plain => Rgb([255, 220, 60]),
            Self::Held => Rgb([90, 255, 120]),
            Self::Worst => Rgb([255, 80, 60]),
            Self::Pending => Rgb([90, 200, 255]),
        }
    }
}

/// Draws lines, marks and cross-hair into the pixels of a window.
fn lay_over(overlay: &Overlay, window: &Window, pixels: &mut RgbImage) {
    for [from, to] in &overlay.lines {
        stroke(pixels, window.dot(*from), window.dot(*to), Tone::Plain.color());
    }
    for (at, tone) in &overlay.marks {
        let [x, y] = window.dot(*at);
        stroke(pixels, [x - 6.0, y], [x + 6.0, y], tone.color());
        stroke(pixels, [x, y - 6.0], [x, y + 6.0], tone.color());
    }
    let Some(cross) = overlay.cross else { return };
    let [x, y] = window.dot(cross);
    let [wide, high] = window.size.map(f64::from);
    // A gap in its middle leaves the place itself in sight.
    for (from, to) in [
        ([0.0, y], [x - 4.0, y]),
        ([x + 4.0, y], [wide, y]),
        ([x, 0.0], [x, y - 4.0]),
        ([x, y + 4.0], [x, high]),
    ] {
        stroke(pixels, from, to, Tone::Held.color());
    }
}

/// The places along a line, a dot apart; none of a line beyond all pictures.
pub fn along(from: [f64; 2], to: [f64; 2]) -> impl Iterator<Item = [f64; 2]> {
    let long = (to[0] - from[0]).abs().max((to[1] - from[1]).abs());
    let steps = long.ceil().max(1.0);
    let count = if long <= 20_000.0 { steps as u32 + 1 } else { 0 };
    (0..count).map(move |k| {
        let share = f64::from(k) / steps;
        [0, 1].map(|i| from[i] + share * (to[i] - from[i]))
    })
}

fn stroke(pixels: &mut RgbImage, from: [f64; 2], to: [f64; 2], color: Rgb) {
    for [x, y] in along(from, to).map(|at| at.map(f64::round)) {
        if x >= 0.0 && y >= 0.0 {
            pixels.set(x as u32, y as u32, color);
        }
    }
}
