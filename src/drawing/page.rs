//! Pages: what of which drawing stands where.
//!
//! A page is laid out in the lengths that will be measured on the print. The
//! print check only says how large the page then is, and what a writer must
//! divide by.

use super::furniture;
use super::shape::{Area, Drawing, Point, mm};
use super::template::{Figure, Template};
use super::tile::{self, Tile};
use crate::job::paper::{Paper, PrintCheck};
use crate::quantity::PaperLength;

/// Kept free at each edge: home printers leave 3 to 6 mm unprinted (common
/// practice, no source).
const MARGIN_MM: f64 = 8.0;
/// Strips for the bar up the page, and for the bar across it and the title.
const LEFT_MM: f64 = 11.0;
const BELOW_MM: f64 = 17.0;
const ABOVE_MM: f64 = 7.0;
/// Between two figures on a page.
const GAP_MM: f64 = 5.0;

/// What all pages share.
#[derive(Clone, Debug, PartialEq)]
pub struct Setup {
    /// The paper.
    pub paper: Paper,
    /// What the printer does to a length.
    pub check: PrintCheck,
    /// The building's name.
    pub job: String,
    /// The scale, as the person calls it.
    pub scale: String,
}

/// How large a page is, and where on it a drawing may stand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Format {
    /// The paper's width and height, as the file states them.
    pub media: (PaperLength, PaperLength),
    /// What the printer does to each direction.
    pub check: PrintCheck,
    /// Width and height as they come out of the printer.
    pub printed: Area,
    /// Where nothing may be cut off.
    pub safe: Area,
    /// Where drawings stand.
    pub room: Area,
}

impl Setup {
    /// The format of a page, upright or on its side.
    #[must_use]
    pub fn format(&self, on_its_side: bool) -> Format {
        let (short, long) = self.paper.upright();
        let plain = self.check;
        // The printer's stretch belongs to the paper's sides, not to the way up.
        let turned = PrintCheck { across: plain.up, up: plain.across };
        let (media, check) =
            if on_its_side { ((long, short), turned) } else { ((short, long), plain) };
        let printed = Area::new(Point::default(), media.0 * check.across, media.1 * check.up);
        // Where it stretches, the paper ends before the page does.
        let edge = |size: PaperLength, factor: f64| mm(MARGIN_MM) + size * (factor - 1.0).max(0.0);
        let edges = Point::new(edge(media.0, check.across), edge(media.1, check.up));
        let safe = Area {
            least: edges,
            most: Point::new(printed.most.x - edges.x, printed.most.y - edges.y),
        };
        let room = Area {
            least: safe.least.moved(Point::of_mm([LEFT_MM, BELOW_MM])),
            most: safe.most.moved(Point::of_mm([0.0, -ABOVE_MM])),
        };
        Format { media, check, printed, safe, room }
    }
}

/// Part of a page: a figure or a tile of it, or what stands on every page.
#[derive(Clone, Debug, PartialEq)]
pub struct Block {
    /// Labels of the figures; none for what stands on every page.
    pub labels: Vec<String>,
    /// What is drawn, at its place on the page.
    pub drawing: Drawing,
    /// Nothing is drawn outside of it.
    pub clip: Option<Area>,
    /// Which tile of the figure it is.
    pub tile: Option<Tile>,
}

/// A page.
#[derive(Clone, Debug, PartialEq)]
pub struct Page {
    /// From 1.
    pub number: usize,
    /// What is on it.
    pub title: String,
    /// How large it is.
    pub format: Format,
    /// Its parts.
    pub blocks: Vec<Block>,
}

impl Page {
    /// The tile of a large figure that it shows.
    #[must_use]
    pub fn tile(&self) -> Option<Tile> {
        self.blocks.iter().find_map(|block| block.tile)
    }

    /// Labels of the figures on it.
    pub fn labels(&self) -> impl Iterator<Item = &str> {
        self.blocks.iter().flat_map(|block| &block.labels).map(String::as_str)
    }
}

/// Most pages of a plan.
pub const MOST_PAGES: u64 = 2_000;

/// How many tiles the large figures take: all else is far fewer pages.
#[must_use]
pub fn tiles(templates: &[Template], setup: &Setup) -> u64 {
    let figures = templates.iter().flat_map(|template| &template.figures);
    let each = |figure: &Figure| match Way::of(figure, setup) {
        Way::Whole { .. } => 0,
        Way::Tiled { on_its_side } => {
            let (area, room) = (figure.area(), setup.format(on_its_side).room);
            let needed = |length, room| u64::from(tile::needed(length, room, tile::overlap()));
            needed(area.width(), room.width()) * needed(area.height(), room.height())
        }
    };
    figures.map(each).sum()
}

/// Lays sheets out on pages: each begins a page, small figures share one,
/// large ones are tiled.
#[must_use]
pub fn lay_out(templates: &[Template], setup: &Setup) -> Vec<Page> {
    let mut pages: Vec<Page> = Vec::new();
    for template in templates {
        let ways = template.figures.iter().map(|figure| Way::of(figure, setup));
        let figures: Vec<(&Figure, Way)> = template.figures.iter().zip(ways).collect();
        let title = template.kind.title();
        for on_its_side in [false, true] {
            let here = figures.iter().filter(|(_, way)| *way == Way::Whole { on_its_side });
            let here: Vec<&Figure> = here.map(|(figure, _)| *figure).collect();
            pages.extend(shelves(&here, title, setup.format(on_its_side)));
        }
        for on_its_side in [false, true] {
            let format = setup.format(on_its_side);
            let large = figures.iter().filter(|(_, way)| *way == Way::Tiled { on_its_side });
            for stack in stacked(large.map(|(figure, _)| *figure), format.room.height()) {
                pages.extend(tiled(&stack, title, format));
            }
        }
    }
    let count = pages.len();
    for (at, page) in pages.iter_mut().enumerate() {
        page.number = at + 1;
        let words = furniture::Words {
            job: &setup.job,
            scale: &setup.scale,
            title: &page.title,
            page: (at + 1, count),
            tile: page.blocks.iter().find_map(|block| block.tile),
        };
        page.blocks.push(Block {
            labels: Vec::new(),
            drawing: furniture::draw(&page.format, &words),
            clip: None,
            tile: None,
        });
    }
    pages
}

/// How a figure goes on paper.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Way {
    Whole { on_its_side: bool },
    Tiled { on_its_side: bool },
}

impl Way {
    fn of(figure: &Figure, setup: &Setup) -> Self {
        let area = figure.area();
        let rooms = [false, true].map(|side| setup.format(side).room);
        let fits = |room: Area| {
            area.width() <= room.width() + mm(1e-6) && area.height() <= room.height() + mm(1e-6)
        };
        if let Some(at) = rooms.iter().position(|room| fits(*room)) {
            return Self::Whole { on_its_side: at == 1 };
        }
        let count = |room: Area| {
            let across = tile::needed(area.width(), room.width(), tile::overlap());
            across * tile::needed(area.height(), room.height(), tile::overlap())
        };
        Self::Tiled { on_its_side: count(rooms[1]) < count(rooms[0]) }
    }
}

fn page(title: &str, format: Format) -> Page {
    Page { number: 0, title: title.to_owned(), format, blocks: Vec::new() }
}

/// Figures that fit, side by side on shelves from the top.
fn shelves(figures: &[&Figure], title: &str, format: Format) -> Vec<Page> {
    let room = format.room;
    let mut pages: Vec<Page> = Vec::new();
    // The next free place: its left edge, the shelf's top and its foot.
    let (mut left, mut top, mut foot) = (room.least.x, room.most.y, room.most.y);
    for figure in figures {
        let area = figure.area();
        if left > room.least.x && left + area.width() > room.most.x + mm(1e-6) {
            (left, top) = (room.least.x, foot - mm(GAP_MM));
        }
        if pages.is_empty() || top - area.height() < room.least.y - mm(1e-6) {
            pages.push(page(title, format));
            (left, top, foot) = (room.least.x, room.most.y, room.most.y);
        }
        let by = Point::new(left - area.least.x, top - area.most.y);
        let block = Block {
            labels: vec![figure.label.clone()],
            drawing: figure.drawing.moved(by),
            clip: None,
            tile: None,
        };
        if let Some(page) = pages.last_mut() {
            page.blocks.push(block);
        }
        left += area.width() + mm(GAP_MM);
        foot = foot.min(top - area.height());
    }
    pages
}

/// Figures larger than the paper that are tiled together.
#[derive(Debug, Default)]
struct Stack {
    drawing: Drawing,
    labels: Vec<String>,
    titles: Vec<String>,
}

impl Stack {
    fn area(&self) -> Area {
        Figure::new("", "", self.drawing.clone()).area()
    }

    fn push(&mut self, figure: &Figure) {
        let (area, here) = (figure.area(), self.drawing.extent().unwrap_or_default());
        let gap = if self.labels.is_empty() { mm(0.0) } else { mm(GAP_MM) };
        let by = Point::new(here.least.x - area.least.x, here.least.y - gap - area.most.y);
        self.drawing.add(&figure.drawing, by);
        self.labels.push(figure.label.clone());
        self.titles.push(figure.title.clone());
    }
}

/// Puts wide figures one below the other while they fit the height of a page,
/// so that a strip of tiles is not spent on each.
fn stacked<'a>(figures: impl Iterator<Item = &'a Figure>, high: PaperLength) -> Vec<Stack> {
    let mut stacks: Vec<Stack> = Vec::new();
    for figure in figures {
        let fits = stacks.last().is_some_and(|stack| {
            stack.area().height() + mm(GAP_MM) + figure.area().height() <= high
        });
        if !fits {
            stacks.push(Stack::default());
        }
        if let Some(stack) = stacks.last_mut() {
            stack.push(figure);
        }
    }
    stacks
}

/// What is larger than the paper, a page a tile.
fn tiled(stack: &Stack, title: &str, format: Format) -> Vec<Page> {
    let area = stack.area();
    let room = (format.room.width(), format.room.height());
    let joints = tile::joints(area, room);
    let place = |(tile, window): (Tile, Area)| {
        let corner = Point::new(format.room.least.x, format.room.most.y - window.height());
        let by = Point::new(corner.x - window.least.x, corner.y - window.least.y);
        let mut drawing = stack.drawing.moved(by);
        drawing.add(&joints, by);
        let mut page = page(&format!("{title}: {}", stack.titles.join(", ")), format);
        let clip = Some(window.moved(by));
        page.blocks.push(Block { labels: stack.labels.clone(), drawing, clip, tile: Some(tile) });
        page
    };
    tile::windows(area, room).into_iter().map(place).collect()
}
