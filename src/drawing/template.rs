//! The sheets of a job: what can be printed, and from what.

use super::shape::{Area, Drawing, mm};
use super::sheets;
use crate::catalog::Catalog;
use crate::clearance::Clearance;
use crate::elevation::Built;
use crate::finding::Stop;
use crate::job::Job;
use crate::quantity::{CompressedLength, ModelLength, PaperLength, Scale};
use crate::stock::Choices;
use crate::takeoff::{Takeoff, Wall};

/// One figure: what is drawn in one piece.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// The part or wall it shows; unique on its sheet.
    pub label: String,
    /// Its heading.
    pub title: String,
    /// The drawing.
    pub drawing: Drawing,
    /// Whether it is drawn at the size it is to be cut.
    pub true_size: bool,
    /// How many are wanted of it, each alike.
    pub copies: u32,
}

impl Figure {
    /// A figure at its true size.
    #[must_use]
    pub fn new(label: impl Into<String>, title: impl Into<String>, drawing: Drawing) -> Self {
        Self { label: label.into(), title: title.into(), drawing, true_size: true, copies: 1 }
    }

    /// The room it takes, with a hair round it for the pen.
    #[must_use]
    pub fn area(&self) -> Area {
        let area = self.drawing.extent().unwrap_or_default();
        let hair = mm(0.3);
        Area::new(
            super::Point::new(area.least.x - hair, area.least.y - hair),
            area.width() + hair * 2.0,
            area.height() + hair * 2.0,
        )
    }
}

macro_rules! kinds {
    ($($name:ident $key:literal $title:literal $about:literal;)*) => {
        /// A sheet that can be printed.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum TemplateKind {
            $(#[doc = $about] $name,)*
        }

        impl TemplateKind {
            /// Every sheet, in the order of the work.
            pub const ALL: &'static [Self] = &[$(Self::$name),*];

            /// The word it is asked for by, and the end of its file name.
            #[must_use]
            pub fn key(self) -> &'static str {
                match self { $(Self::$name => $key,)* }
            }

            /// Its heading.
            #[must_use]
            pub fn title(self) -> &'static str {
                match self { $(Self::$name => $title,)* }
            }

            /// What it shows, in a sentence.
            #[must_use]
            pub fn about(self) -> &'static str {
                match self { $(Self::$name => $about,)* }
            }
        }
    };
}

kinds! {
    Contents "contents" "Contents" "What is on which page, how to check the print, cautions.";
    FieldSheet "field-sheet" "Field sheet" "What to take on the ground, and what checks it.";
    MockUp "mock-up" "Mock-up in card" "Plain walls and roof with tabs, thickness allowed for.";
    Core "core" "Core walls" "Core walls and floor with their openings, at true size.";
    Roof "roof" "Roof planes" "Roof planes at true size, with the lines of their courses.";
    Cladding "cladding" "Cladding" "Walls with every board, course or sheet, for scribing.";
    Castings "castings" "Openings for castings" "Each opening as it is cut for its casting.";
    Jigs "jigs" "Framing jigs" "Rafters, posts and braces to lay the sticks on.";
    Gauge "gauge" "Clearance gauge" "The outline that must pass at the tightest place beside the track.";
    StorySticks "story-sticks" "Story sticks" "Strips with every joint marked, in running dimensions.";
    Sticks "sticks" "Stick plans" "How each stick is cut.";
    Sheets "sheets" "Sheet plans" "How each sheet is cut, not at true size.";
    CutList "cut-list" "Cut list" "What to buy, and what is cut from it.";
    Record "record" "Build record" "Half a page: what differs from the prototype, and why.";
}

impl TemplateKind {
    /// The sheet of that key.
    ///
    /// # Errors
    /// When there is none: the keys there are.
    pub fn find(key: &str) -> Result<Self, Stop> {
        Self::ALL.iter().find(|kind| kind.key() == key.trim()).copied().ok_or_else(|| {
            let keys: Vec<&str> = Self::ALL.iter().map(|kind| kind.key()).collect();
            Stop::new(
                "choosing the sheets",
                format!("there is no sheet called \"{key}\""),
                format!("the sheets are {}", keys.join(", ")),
            )
        })
    }
}

/// A sheet with its figures.
#[derive(Clone, Debug, PartialEq)]
pub struct Template {
    /// Which one.
    pub kind: TemplateKind,
    /// Its figures.
    pub figures: Vec<Figure>,
}

/// What the sheets are drawn from.
#[derive(Clone, Copy, Debug)]
pub struct Bench<'a> {
    /// What the person wrote.
    pub job: &'a Job,
    /// The data behind it.
    pub catalog: &'a Catalog,
    /// The building as it will be built.
    pub built: &'a Built,
    /// Its parts.
    pub takeoff: &'a Takeoff,
    /// Stock for them.
    pub stock: &'a Choices,
    /// The scale.
    pub scale: &'a Scale,
    /// Thickness of the card of the mock-up.
    pub card: ModelLength,
    /// The building against its track, where it has one.
    pub clearance: Option<&'a Clearance>,
}

impl Bench<'_> {
    /// A full-size length at true size on paper.
    #[must_use]
    pub fn paper(&self, full: CompressedLength) -> PaperLength {
        super::shape::on_paper(self.scale.reduce(full))
    }

    /// The walls of the building.
    #[must_use]
    pub fn walls(&self) -> &[Wall] {
        &self.takeoff.walls
    }

    /// A full-size length in words: on the model first, full size after it.
    #[must_use]
    pub fn both(&self, full: CompressedLength) -> String {
        let about = &self.job.about;
        format!(
            "{} ({})",
            about.model_notation().show(&self.scale.reduce(full)),
            about.full_notation().show(&full)
        )
    }

    /// A full-size length as it is on the model, in words.
    #[must_use]
    pub fn model(&self, full: CompressedLength) -> String {
        self.job.about.model_notation().show(&self.scale.reduce(full))
    }
}

/// The drawn sheets of a job, those with nothing on them left out.
#[must_use]
pub fn drawn(bench: &Bench<'_>) -> Vec<Template> {
    type Draw = fn(&Bench<'_>) -> Vec<Figure>;
    let sheets: [(TemplateKind, Draw); 8] = [
        (TemplateKind::MockUp, sheets::mock_up::figures),
        (TemplateKind::Core, sheets::core::figures),
        (TemplateKind::Roof, sheets::roof::figures),
        (TemplateKind::Cladding, sheets::cladding::figures),
        (TemplateKind::Castings, sheets::castings::figures),
        (TemplateKind::Jigs, sheets::jigs::figures),
        (TemplateKind::Gauge, sheets::gauge::figures),
        (TemplateKind::StorySticks, sheets::story_sticks::figures),
    ];
    let drawn = sheets.into_iter().map(|(kind, draw)| Template { kind, figures: draw(bench) });
    drawn.filter(|template| !template.figures.is_empty()).collect()
}
