//! The sums of the book, by the words that ask for them.

mod circle;
mod circuit;
mod covering;
mod curve;
mod cuts;
mod grade;
mod lumber;
mod masonry;
mod paper;
mod picture;
mod readings;
mod roof;
mod rows;
mod share;
mod stairs;
mod supply;
mod track;
mod unit;
mod wire;
mod worth;

use super::answer::Answer;
use super::desk::Desk;
use super::look::Look;
use super::said::Line;
use crate::finding::Stop;
use crate::quantity::{PrototypeLength, Scale};

pub(super) use paper::copy as between_scales;
pub(super) use worth::named_scale;

type Run = fn(&mut Line<'_>, &Desk<'_>) -> Result<Answer, Stop>;

/// A sum that can be asked for.
#[derive(Debug)]
pub struct Sum {
    /// What it is called.
    pub key: &'static str,
    /// What it answers.
    pub about: &'static str,
    /// A line that asks for it.
    pub example: &'static str,
    /// Words and phrases that ask for it, and how surely.
    words: &'static [(&'static str, u32)],
    /// What its quantities tell without a word.
    shape: fn(&Line<'_>) -> u32,
    run: Run,
}

impl Sum {
    /// How surely a line asks for it; 0 for not at all.
    pub(super) fn score(&self, line: &Line<'_>) -> u32 {
        let words = self.words.iter().filter(|(word, _)| line.has(&[word])).map(|(_, sure)| *sure);
        words.max().unwrap_or(0).max((self.shape)(line))
    }

    /// Works it out; the words that ask for it are known.
    pub(super) fn run(&self, line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
        self.score(line);
        (self.run)(line, desk)
    }
}

fn no_shape(_: &Line<'_>) -> u32 {
    0
}

macro_rules! sums {
    ($($key:literal, $about:literal, $example:literal, [$($word:literal $sure:literal),*], $shape:expr, $run:path;)*) => {
        /// Every sum, in the order of the list.
        pub const SUMS: &[Sum] = &[$(Sum {
            key: $key,
            about: $about,
            example: $example,
            words: &[$(($word, $sure)),*],
            shape: $shape,
            run: $run,
        }),*];
    };
}

sums! {
    "board feet", "Board feet of a lot of lumber", "30 pieces of 2x12x16 ft board feet",
        ["board feet" 9, "board foot" 9, "board measure" 9, "bd ft" 9], lumber::is_lot, lumber::board_feet;
    "lumber", "A nominal size by era, on the model, with the nearest strip", "2x12 at O in 1926",
        ["nominal" 6, "lumber" 6, "dressed" 4, "timber" 5], lumber::is_section, lumber::section;
    "stairs", "Risers, treads and stringer of a flight", "stairs 9 ft floor to floor, riser at most 7 3/4 in",
        ["stairs" 9, "stair" 9, "steps" 7, "risers" 8, "riser" 8, "flight" 8], no_shape, stairs::flight;
    "slates", "Exposure of slate and how many", "slates 10x20, lap 3 in, on 16 ft x 20 ft",
        ["slate" 9, "slates" 9], no_shape, covering::slates;
    "shingles", "Exposure by length and pitch, courses up a slope, how many", "shingles 18 in at 4:12",
        ["shingle" 9, "shingles" 9, "shakes" 9, "shake" 9], no_shape, covering::shingles;
    "corrugated", "Sheets across a wall and tiers up it", "corrugated iron 96 ft wide, 12 ft high, sheets 8 ft",
        ["corrugated" 9, "corrugation" 8, "corrugations" 8], no_shape, covering::corrugated;
    "courses", "Courses up a wall or between two lines, and the last one", "courses 12 ft high, exposure 4 1/2 in",
        ["course" 7, "courses" 7, "coursing" 7, "brick" 8, "bricks" 8, "clapboard" 8, "clapboards" 8, "siding" 4, "block" 6, "blocks" 6, "exposure" 6, "tar paper" 9, "roofing paper" 9, "felt" 8], no_shape, rows::courses;
    "boards", "Boards or planks across a width, and what is left", "boards 12 in across 114 ft 6 in",
        ["boards" 6, "board" 6, "planks" 7, "plank" 7, "battens" 7, "pickets" 8, "picket" 8, "slats" 8, "fence" 6], no_shape, rows::boards;
    "bays", "Equal bays no wider than a size, and their posts", "bays in 114 ft 6 in, at most 12 ft",
        ["bays" 8, "posts" 8, "post" 6, "bay" 6, "equal spaces" 8, "spaces" 6, "equal parts" 9, "equal pieces" 9, "equal lengths" 9], no_shape, rows::bays;
    "centres", "Pieces at centres along a length", "rafters at 24 in centres along 114 ft 6 in",
        ["centres" 7, "centers" 7, "on centre" 7, "on center" 7, "oc" 7, "studs" 7, "joists" 7, "rungs" 8, "rung" 8, "ladder" 7, "apart" 7], no_shape, rows::centres;
    "ties", "Ties to a mile or a length", "ties at 21 in",
        ["ties" 9, "tie" 7, "sleepers" 9], no_shape, rows::ties;
    "brace", "A brace of two legs, its cuts and its short side", "brace 24 in out, 36 in up, 4 in stick",
        ["brace" 9, "braces" 9, "knee brace" 9], no_shape, roof::brace;
    "pitch", "A pitch: factor, cuts, hip and valley, and rafters of a run", "6:12 run 19 ft",
        ["pitch" 7, "pyramid" 8, "rafter" 7, "rafters" 6, "slope" 6, "slope factor" 8, "roof" 5, "hip" 7, "valley" 8, "gable" 6, "plumb cut" 8, "angle" 5, "run" 4, "rise" 4, "span" 4],
        roof::is_pitch, roof::pitch;
    "curve", "A curve by radius or degree: mid-ordinate, what a car sweeps, room to a wall", "25 deg curve at S",
        ["curve" 8, "curves" 8, "radius" 7, "degree of curve" 9, "mid ordinate" 9, "midordinate" 9, "middle ordinate" 9, "ordinate" 8, "sagitta" 9, "versine" 9, "chord" 8, "overhang" 6, "swing" 7, "sweep" 7, "box car" 6, "coach" 5, "car" 4],
        no_shape, curve::curve;
    "tank", "A circle or a tank: round it, its area, what it holds, its staves", "tank 16 ft diameter, 12 ft high, staves 6 in",
        ["tank" 8, "tanks" 8, "silo" 8, "gallon" 9, "gallons" 9, "litres" 8, "liters" 8, "volume" 8, "cylinder" 8, "circumference" 9, "circle" 8, "stave" 9, "staves" 9, "hoop" 8, "hoops" 8],
        circle::is_round, circle::tank;
    "arch", "An arch by its width and rise: radius, angle, length along it", "arch 4 ft wide, 8 in rise",
        ["arch" 9, "arched" 9, "arches" 9, "segmental" 9], no_shape, circle::arch;
    "mitre", "The cuts of a corner, or of so many equal sides", "mitre of 8 sides",
        ["corner" 7, "bevel" 6, "mitre" 9, "miter" 9, "mitres" 9, "miters" 9, "sided" 9, "polygon" 9, "octagon" 9, "octagonal" 9, "hexagon" 9, "hexagonal" 9, "pentagon" 9], no_shape, circle::mitres;
    "evenly", "Openings set out with the same gap between them", "3 windows 30 in wide evenly in a 40 ft wall",
        ["evenly" 9, "equally" 9, "equal gaps" 9, "even gaps" 9, "same gap" 9], no_shape, share::evenly;
    "panes", "The panes of a window between its bars", "window 30 in x 60 in, 2 panes wide, 4 high, muntins 1 in",
        ["pane" 9, "panes" 9, "muntin" 9, "muntins" 9, "mullion" 8, "mullions" 8], no_shape, share::panes;
    "grade", "A grade: what it climbs over a length, or how long it is for a climb", "2 percent grade over 8 ft",
        ["grade" 8, "fall" 8, "falls" 8, "gradient" 9, "incline" 9, "ramp" 8, "climb" 9, "climbs" 9], no_shape, grade::grade;
    "frog", "The angle of a turnout by its number", "frog number 6",
        ["frog" 9, "turnout" 9, "turnouts" 9], no_shape, grade::frog;
    "clearance", "Published clearances, rules and car outlines on the model", "clearance NEM H0 radius 600 mm group B",
        ["clearance" 9, "clearances" 9, "envelope" 8, "wac" 9, "plate" 7, "platform" 7, "overhead" 6], no_shape, track::clearance;
    "gauge", "What a track gauge stands for at a scale", "track 16.5 mm at HO against 56 1/2 in",
        ["track" 7, "gauge" 6, "gage" 6], no_shape, track::gauge;
    "supply", "What lamps side by side take from their supply", "5 bulbs 60 mA each at 12 V",
        ["in parallel" 8, "total current" 9, "battery" 8, "batteries" 8, "charge" 8], supply::is_supply, supply::supply;
    "circuit", "Resistor for lamps in series, its heat and its rating", "12 V, 3 white in series, 5 mA",
        ["led" 8, "leds" 8, "lamp" 8, "lamps" 8, "in series" 7, "bulb" 7, "bulbs" 7, "circuit" 8, "resistor" 5, "forward" 6],
        circuit::is_circuit, circuit::circuit;
    "derate", "What a power rating is worth in a warm place", "1/4 W resistor at 100 C",
        ["derate" 9, "derated" 9, "derating" 9], circuit::is_warm, circuit::derate;
    "resistor", "The standard values round a resistance", "1120 ohm nearest E12",
        ["resistor" 6, "e12" 8, "e24" 8, "ohm" 4, "ohms" 4, "preferred" 7, "standard value" 8], circuit::is_resistance, circuit::values;
    "wire", "A wire by gauge: diameter, resistance, what a run loses", "wire 12 ft awg 30, 60 mA",
        ["awg" 9, "wire" 9, "swg" 9, "drop" 7, "voltage drop" 9, "wire gauge" 9, "diameter" 7], wire::is_wire, wire::wire;
    "copy", "Photocopy and redraw: what percent", "copy 1/8 in = 1 ft to O",
        ["copy" 9, "photocopy" 9, "photocopier" 9, "redraw" 9, "enlarge" 9, "reduce" 8, "copier" 9], no_shape, paper::copy;
    "print", "A print that is out: factor, what to print at, the error of a part", "print bar measures 97.1 mm of 100 mm, part 140 mm",
        ["print" 8, "printed" 8, "printer" 9, "bar" 6, "bars" 7, "prints" 8, "percent out" 9], no_shape, paper::print;
    "tiles", "Pages a large template takes", "tiles 500 x 300 mm on A4, margin 10 mm",
        ["tiles" 9, "tile" 9, "pages" 7, "sheets of" 7], no_shape, paper::tiles;
    "paper", "A size of paper, or a length on it, in millimetres, points and pixels", "paper A4",
        ["paper" 8, "a0" 6, "a1" 6, "a2" 6, "a3" 6, "a4" 6, "letter" 7, "legal" 7, "px" 7, "pixel" 7, "pixels" 7, "pt" 7, "point" 5, "points" 6],
        no_shape, paper::paper;
    "dxf", "The unit number of a DXF file", "dxf units mm",
        ["dxf" 9, "insunits" 9], no_shape, paper::dxf;
    "kerf", "What is drawn for a beam to leave the size wanted", "kerf 0.2 mm, part 40 mm square",
        ["kerf" 7, "beam" 5, "laser" 7], no_shape, cuts::kerf;
    "sticks", "Pieces from a stick with the saw counted", "stick 24 in, kerf 0.4 mm, pieces 87.5 mm",
        ["stick" 8, "sticks" 8, "per stick" 9, "stripwood" 8, "strips" 8, "rip" 8], no_shape, cuts::sticks;
    "lid", "A lid over walls, or a floor inside them", "lid over 140 x 85 mm, 0.4 mm all round",
        ["lid" 9, "lift off" 9, "all round" 8, "drop in" 8], no_shape, cuts::lid;
    "core", "A wall of a core and its covers", "core 2 mm, cover 0.25 mm both sides",
        ["core" 8, "laminate" 8, "lamination" 8, "covers" 7, "layers" 7], no_shape, cuts::core;
    "diagonal", "The diagonal of a box, and how far it is out of square", "diagonal 12 ft x 16 ft",
        ["diagonal" 9, "diagonals" 9, "hypotenuse" 9, "out of square" 9], no_shape, cuts::diagonal;
    "round", "To the nearest fraction or place", "0.4019 in to nearest 1/64",
        ["round" 7, "nearest" 6, "to the nearest" 7, "places" 7, "decimals" 7], worth::is_rounding, worth::round;
    "against", "One size against another: difference and percent", "0.060 in against 1.5 mm",
        ["against" 8, "versus" 8, "vs" 8, "compare" 7, "compared" 7, "instead" 6], no_shape, worth::against;
    "mean", "The weighted mean of readings, and whether they agree", "mean 24.0 \u{b1} 0.25, 24.6 \u{b1} 0.3 ft",
        ["mean" 9, "average" 9, "weighted" 9], no_shape, readings::mean;
    "combine", "Uncertainties taken together", "combine 25, 9.7, 2.9, 16.6",
        ["combine" 9, "combined" 9, "root sum" 9, "rss" 9, "quadrature" 9], no_shape, readings::combine;
    "reading", "What a reading to a fraction is worth", "reading to 1/8 in",
        ["reading" 7, "reading to" 8, "resolution" 8, "rectangular" 9, "read to" 9], no_shape, readings::resolution;
    "each", "So many pieces of a size with its uncertainty", "8 boards each 9.5 \u{b1} 0.1 in",
        ["each" 5], worth::is_each, worth::each;
    "levels", "A net of levels adjusted, with the worst reading named", "levels A 100 m; A B 2.5 \u{b1} 0.005 m; B A -2.507 \u{b1} 0.005 m",
        ["levels" 9, "levelling" 9, "leveling" 9, "network" 8], no_shape, readings::levels;
    "fit", "A straight line or a polynomial through readings", "fit line 0.2 0.1; 337.4 338.8; 118.2 118.1",
        ["fit" 8, "regression" 9, "line through" 9, "polynomial" 9], no_shape, readings::fit;
    "cross-ratio", "The cross-ratio of four points on a line", "cross-ratio 0, 1, 2, 3",
        ["cross ratio" 9], no_shape, picture::cross;
    "fourth", "A fourth point of a wall line from three known", "fourth point: 0 ft at 100 px, 10 ft at 366.6667, 40 ft at 633.3333; point at 455.5556",
        ["fourth point" 9, "fourth" 8, "along the wall" 8], no_shape, picture::fourth;
    "square up", "A place in a picture on a wall squared by four corners", "square up 212,118 1430,264 1418,742 198,880 as 480 x 168 in; at 820,400",
        ["square up" 9, "squared" 8, "homography" 9, "rectify" 9, "corners" 7], no_shape, picture::square_up;
    "rectangle", "Focal length and shape of a rectangle seen askew", "rectangle 609.6,251.3 1562.8,306.6 604.1,775 1476.9,1029.1 centre 960,640",
        ["rectangle" 8, "aspect" 8, "focal" 8], no_shape, picture::rectangle;
    "height", "A height: level camera, sights of an angle, shadow, one view", "height eye 5.5 ft, base 900, horizon 520, top 130",
        ["eye" 8, "horizon" 8, "shadow" 9, "clinometer" 9, "sight" 7, "height" 5, "tall" 6], no_shape, picture::height;
    "known object", "A length on a print beside an object of known size", "house-door 23 mm, wall 61.5 mm",
        ["known" 6, "on the print" 9, "on the photo" 9, "house door" 7, "in the picture" 9, "photo" 6, "photograph" 6], no_shape, picture::known;
    "set back", "How much too big something nearer looks", "6 ft in front of a wall at 60 ft",
        ["in front" 8, "nearer" 8, "set back" 8, "ahead" 7], no_shape, picture::set_back;
    "area", "An area on the building and on the model", "area 40 x 14 ft",
        ["area" 9, "perimeter" 9, "square feet" 7, "square metres" 7, "plywood" 8, "drywall" 8, "panel" 6], |line| worth::is_area(line).max(worth::is_two_sides(line)), worth::area;
    "unit", "A length in a unit that is named, full size and on the model", "48 ft in metres",
        [], unit::is_asked, unit::convert;
    "scale", "A scale: its ratio, its foot; or the scale two sizes tell", "what scale is 42 mm for 12 ft",
        ["what scale" 9, "which scale" 9, "ratio" 7], no_shape, worth::scale;
}

/// The sums whose words begin as the words typed do, the surest first; all of
/// them for no word.
#[must_use]
pub fn offered(typed: &str) -> Vec<&'static Sum> {
    let typed: Vec<String> = typed
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| word.chars().count() > 1 && word.chars().all(char::is_alphabetic))
        .map(str::to_lowercase)
        .collect();
    if typed.is_empty() {
        return SUMS.iter().collect();
    }
    let hits = |sum: &Sum| {
        let known = sum.words.iter().flat_map(|(phrase, _)| phrase.split(' '));
        let known: Vec<&str> = known.chain(sum.key.split(' ')).collect();
        let begins = |word: &&String| known.iter().any(|one| one.starts_with(word.as_str()));
        typed.iter().filter(begins).count()
    };
    let mut found: Vec<(usize, &Sum)> =
        SUMS.iter().map(|sum| (hits(sum), sum)).filter(|(hits, _)| *hits > 0).collect();
    found.sort_by_key(|(hits, _)| std::cmp::Reverse(*hits));
    if found.is_empty() {
        let word = typed.join(" ");
        let known = SUMS.iter().flat_map(|sum| {
            sum.words.iter().map(move |(word, _)| (*word, sum)).chain([(sum.key, sum)])
        });
        let like = known
            .map(|(known, sum)| (strsim::jaro_winkler(&word, known), sum))
            .filter(|(like, _)| *like > 0.8);
        let best = like.max_by(|a, b| a.0.total_cmp(&b.0));
        return best.into_iter().map(|(_, sum)| sum).collect();
    }
    found.into_iter().map(|(_, sum)| sum).collect()
}

/// How a length of the building is written with its size on the model.
fn by<'d>(desk: &'d Desk<'_>) -> (&'d Scale, Look) {
    (&desk.scale, desk.look)
}

/// A length of the building and what it is on the model: `8 1/2", 0.18" at O`.
fn both(length: PrototypeLength, desk: &Desk<'_>) -> String {
    let model = desk.scale.reduce(length);
    format!(
        "{}, on the model at {} {}",
        desk.look.full.show(&length),
        desk.scale,
        super::answer::read(model, desk.look)
    )
}

/// Whether a size is above nothing, or what to say.
fn above_zero(what: &str, size: f64) -> Result<(), Stop> {
    if size > 0.0 && size.is_finite() {
        return Ok(());
    }
    Err(Stop::new(
        "working it out",
        format!("the {what} is not above zero"),
        "look at its sign and its unit",
    ))
}
