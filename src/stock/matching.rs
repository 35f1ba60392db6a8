//! Ways to make a section from stock, best first.

use super::offer::{Offer, OfferForm};
use super::rules::{Use, Verdict, judge, minute_of_arc};
use super::section::Section;
use crate::quantity::{CompressedLength, Model, ModelLength, Scale};

/// Glue between two layers (common practice: 1 to 3 thou).
const GLUE_THOU: f64 = 2.0;
/// The relative error that ripping is worth avoiding (judgement).
const TROUBLE: f64 = 0.1;
/// How many ways are kept.
const KEPT: usize = 5;

/// How a section is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Way {
    /// Strip as it comes, or sheet as it is.
    Single,
    /// Cut to width from sheet.
    Ripped,
    /// Two layers glued face to face, then cut to width.
    TwoLayers,
    /// Three layers.
    ThreeLayers,
}

/// One way to make a section.
#[derive(Clone, Debug, PartialEq)]
pub struct Match {
    /// Name of the stock.
    pub stock: String,
    /// What it is made of.
    pub material: String,
    /// How it is made from it.
    pub way: Way,
    /// The section it gives.
    pub gives: Section<Model>,
    /// Given less wanted: thickness.
    pub thickness_error: ModelLength,
    /// Given less wanted: width.
    pub width_error: ModelLength,
    /// What the rules say.
    pub verdict: Verdict,
    /// Whether the eye sees the difference from the viewing distance.
    pub seen: bool,
    /// Whether the difference is under the survey's own uncertainty; nothing
    /// where the size was not measured.
    pub under_survey: Option<bool>,
    /// Length of one piece of the stock.
    pub length: ModelLength,
    /// Whether it is on the person's own rack.
    pub on_hand: bool,
    /// How many pieces of the stock there are; nothing where it is bought as
    /// wanted.
    pub count: Option<u32>,
    /// Price of one piece of the stock, in the smallest coin.
    pub price: Option<i64>,
    /// Width of the sheet it is ripped from; nothing where it is strip.
    pub sheet: Option<ModelLength>,
}

impl Match {
    /// How many layers it is glued up from.
    #[must_use]
    pub fn layers(&self) -> u32 {
        match self.way {
            Way::Single | Way::Ripped => 1,
            Way::TwoLayers => 2,
            Way::ThreeLayers => 3,
        }
    }

    /// Strips of the width that one sheet gives with a cut between them;
    /// nothing where it is not ripped from sheet.
    #[must_use]
    pub fn strips_a_sheet(&self, kerf: ModelLength) -> Option<u32> {
        let sheet = self.sheet.filter(|_| self.gives.width > ModelLength::ZERO)?;
        Some(per_length(sheet, self.gives.width, kerf))
    }

    /// The larger of the two errors, with its sign.
    #[must_use]
    pub fn worst(&self) -> ModelLength {
        if self.thickness_error.abs() > self.width_error.abs() {
            self.thickness_error
        } else {
            self.width_error
        }
    }

    /// The larger error as a share of the wanted size, in percent.
    #[must_use]
    pub fn percent(&self) -> f64 {
        let thick = self.thickness_error / (self.gives.thickness - self.thickness_error);
        let wide = self.width_error / (self.gives.width - self.width_error);
        100.0 * if thick.abs() > wide.abs() { thick } else { wide }
    }

    /// The larger error at full size.
    #[must_use]
    pub fn worst_full(&self, scale: &Scale) -> CompressedLength {
        scale.enlarge(self.worst())
    }
}

/// Pieces of one length from one stick, with a cut between two neighbours:
/// `floor((stick + kerf) / (piece + kerf))`.
#[must_use]
pub fn per_length(stick: ModelLength, piece: ModelLength, kerf: ModelLength) -> u32 {
    // A saturating cast is right for a number of pieces.
    ((stick + kerf) / (piece + kerf) + 1e-9).floor() as u32
}

/// What is asked of the stock.
#[derive(Clone, Copy, Debug)]
pub struct Ask<'a> {
    /// The section wanted, on the model.
    pub wanted: Section<Model>,
    /// How it is judged.
    pub how: Use,
    /// What the survey leaves open in it, on the model.
    pub sigma: Option<ModelLength>,
    /// From where the model is seen.
    pub seen_from: ModelLength,
    /// Materials in the order they are liked; others come after.
    pub materials: &'a [String],
}

/// The best ways to make a section, best first.
#[must_use]
pub fn ways(ask: &Ask<'_>, offers: &[Offer]) -> Vec<Match> {
    let mut found: Vec<Match> = offers.iter().flat_map(|offer| from_offer(ask, offer)).collect();
    found.sort_by(|a, b| {
        rank(ask, a).partial_cmp(&rank(ask, b)).unwrap_or(std::cmp::Ordering::Equal)
    });
    found.truncate(KEPT);
    found
}

/// The ways one stock gives.
#[must_use]
pub(super) fn from_offer(ask: &Ask<'_>, offer: &Offer) -> Vec<Match> {
    let wanted = ask.wanted;
    let layered = |layers: f64, each: ModelLength| {
        each * layers + ModelLength::thou(GLUE_THOU) * (layers - 1.0)
    };
    let section = |thickness, width| Section { thickness, width };
    match offer.form {
        OfferForm::Strip { .. } if ask.how == Use::Core => Vec::new(),
        OfferForm::Strip { thickness, width } => vec![
            judged(ask, offer, Way::Single, section(thickness, width)),
            judged(ask, offer, Way::TwoLayers, Section::new(layered(2.0, thickness), width)),
        ],
        OfferForm::Sheet { thickness, .. } if ask.how == Use::Core => {
            vec![judged(ask, offer, Way::Single, section(thickness, wanted.width))]
        }
        OfferForm::Sheet { thickness, .. } => vec![
            judged(ask, offer, Way::Ripped, section(thickness, wanted.width)),
            judged(ask, offer, Way::TwoLayers, section(layered(2.0, thickness), wanted.width)),
            judged(ask, offer, Way::ThreeLayers, section(layered(3.0, thickness), wanted.width)),
        ],
    }
}

fn judged(ask: &Ask<'_>, offer: &Offer, way: Way, gives: Section<Model>) -> Match {
    let error = (gives.thickness - ask.wanted.thickness, gives.width - ask.wanted.width);
    let wanted = (ask.wanted.thickness, ask.wanted.width);
    let largest = error.0.abs().max(error.1.abs());
    Match {
        stock: offer.name.clone(),
        material: offer.material.clone(),
        way,
        gives,
        thickness_error: error.0,
        width_error: error.1,
        verdict: judge(ask.how, error, wanted, ask.seen_from),
        seen: largest > minute_of_arc(ask.seen_from),
        under_survey: ask.sigma.map(|sigma| largest <= sigma),
        length: offer.length,
        on_hand: offer.on_hand,
        count: offer.count,
        price: offer.price,
        sheet: match offer.form {
            OfferForm::Sheet { width, .. } => Some(width),
            OfferForm::Strip { .. } => None,
        },
    }
}

/// Lower is better: what will not do last, then the material liked, then the
/// verdict, stock on hand, and the relative error, where too thick counts half as much again for fine work, and every
/// step away from a plain strip counts as [`TROUBLE`] of error.
fn rank(ask: &Ask<'_>, made: &Match) -> (bool, usize, Verdict, bool, f64) {
    let heavy = if ask.how == Use::Fine { 1.5 } else { 1.0 };
    let share = |error: ModelLength, wanted: ModelLength| {
        let share = error / wanted.max(ModelLength::thou(0.1));
        if share > 0.0 { share * heavy } else { -share }
    };
    let off = share(made.thickness_error, ask.wanted.thickness)
        + share(made.width_error, ask.wanted.width);
    let trouble = match made.way {
        Way::Single => 0.0,
        Way::Ripped => TROUBLE,
        Way::TwoLayers => 2.0 * TROUBLE,
        Way::ThreeLayers => 3.0 * TROUBLE,
    };
    let liked = ask.materials.iter().position(|liked| *liked == made.material);
    let liked = liked.unwrap_or(ask.materials.len());
    (made.verdict == Verdict::Refuse, liked, made.verdict, !made.on_hand, off + trouble)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn strip(thickness: f64, width: f64) -> Offer {
        Offer {
            name: format!("{thickness} x {width}"),
            material: "wood".into(),
            form: OfferForm::Strip {
                thickness: ModelLength::thou(thickness),
                width: ModelLength::thou(width),
            },
            length: ModelLength::inches(24.0),
            on_hand: false,
            count: None,
            price: None,
            sizes: Vec::new(),
            grain: true,
        }
    }

    fn sheet(thickness: f64) -> Offer {
        Offer {
            name: format!("sheet {thickness}"),
            form: OfferForm::Sheet {
                thickness: ModelLength::thou(thickness),
                width: ModelLength::inches(4.0),
            },
            ..strip(thickness, 4000.0)
        }
    }

    fn ask(thickness: f64, width: f64, how: Use) -> Ask<'static> {
        Ask {
            wanted: Section::new(ModelLength::thou(thickness), ModelLength::thou(width)),
            how,
            sigma: Some(ModelLength::thou(3.0)),
            seen_from: ModelLength::inches(24.0),
            materials: &[],
        }
    }

    #[test]
    fn a_strip_that_will_do_comes_before_ripping() {
        let offers = [sheet(62.5), strip(62.5, 93.8), strip(62.5, 125.0)];
        let best = ways(&ask(61.0, 92.0, Use::Lone), &offers);
        assert_eq!((best[0].stock.as_str(), best[0].way), ("62.5 x 93.8", Way::Single));
        assert_eq!(best[0].under_survey, Some(true));
        assert!(!best[0].seen);
    }

    #[test]
    fn ripping_and_laminating_come_where_no_strip_will_do() {
        let offers = [strip(31.2, 62.5), sheet(31.2), sheet(46.9)];
        let ripped = ways(&ask(45.9, 91.8, Use::Lone), &offers);
        assert_eq!((ripped[0].stock.as_str(), ripped[0].way), ("sheet 46.9", Way::Ripped));
        let layered = ways(&ask(64.0, 150.0, Use::Lone), &offers);
        assert_eq!((layered[0].stock.as_str(), layered[0].way), ("sheet 31.2", Way::TwoLayers));
        assert!((layered[0].gives.thickness.in_thou() - 64.4).abs() < 1e-6);
    }

    #[test]
    fn the_material_liked_comes_first_unless_it_will_not_do() {
        let mut card = sheet(45.0);
        card.material = "card".into();
        let liked = ["card".to_owned()];
        let ask = Ask { materials: &liked, ..ask(45.9, 91.8, Use::Lone) };
        let offers = [sheet(45.9), card];
        assert_eq!(ways(&ask, &offers)[0].material, "card");
        let mut thin = sheet(10.0);
        thin.material = "card".into();
        assert_eq!(ways(&ask, &[sheet(45.9), thin])[0].material, "wood");
    }

    /// R8-06: pieces of 87.5 mm from sticks of 24 in with a saw of 0.4 mm: six
    /// (arithmetic: n pieces need n - 1 cuts). Boards of 16 ft at 1:87.1 are
    /// 2.204 in: ten a stick, not 10.9, so that 115 take 12 sticks (COMPUTED).
    #[test]
    fn whole_pieces_a_stick() {
        let millimetres = ModelLength::millimetres;
        let stick = ModelLength::inches(24.0);
        assert_eq!(per_length(stick, millimetres(87.5), millimetres(0.4)), 6);
        let board = ModelLength::inches(192.0 / 87.1);
        assert_eq!(per_length(stick, board, ModelLength::ZERO), 10);
        assert_eq!(115_u32.div_ceil(per_length(stick, board, ModelLength::ZERO)), 12);
    }

    #[test]
    fn beside_the_track_the_smaller_is_taken() {
        let offers = [strip(91.0, 93.8), strip(90.0, 90.0)];
        let best = ways(&ask(91.8, 91.8, Use::BesideTrack), &offers);
        assert_eq!(best[0].stock, "90 x 90");
        assert_eq!(best[1].verdict, Verdict::Refuse);
    }

    #[test]
    fn fine_work_would_rather_be_thin() {
        let offers = [strip(20.0, 62.0), strip(20.0, 54.5)];
        let wanted = ask(20.0, 58.0, Use::Fine);
        assert_eq!(ways(&wanted, &offers)[0].stock, "20 x 54.5");
    }
}
