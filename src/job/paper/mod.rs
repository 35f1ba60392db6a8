//! Paper: what pages are printed on, and what the printer does to them.

mod print_check;
mod size;

pub use print_check::{PrintCheck, bar_across, bar_up, with_kept};
pub use size::Paper;

use super::grammar::{Text, eg, keys, table};
use super::said::Said;
use crate::finding::Stop;
use crate::quantity::{Model, ModelLength, Paper as OnPage};

/// Card of the mock-up where the job does not say: common practice, no source.
const CARD_THOU: f64 = 30.0;
/// Kerfs of lasers are 3 to 18 thou (laser service pages, READ); past this it
/// is a slip of the unit.
const WIDEST_KERF_THOU: f64 = 60.0;

keys! {
    /// What the job says of paper, card and laser.
    #[derive(Clone, Debug, Default)]
    pub struct OnPaper [table("paper")] {
        /// The size: `letter`, `a4` or another; Letter when absent, A4 where the
        /// job is metric.
        "size": size: Option<String> = eg("a4").text(Text::Name).unless("letter, or a4 where the job is metric", "judgement"),
        /// What the 4.000 in bar along the width of the page measured.
        "across": pub across: Option<Said<OnPage>> = eg("3.98 in").upto(24.0).agrees("up: measure both"),
        /// What the 100.0 mm bar along its height measured.
        "up": pub up: Option<Said<OnPage>> = eg("99.6 mm").upto(24.0).agrees("across: measure both"),
        /// Whether both were measured twice.
        "twice": pub twice: bool = eg("true"),
        /// Thickness of the card of the mock-up.
        "card": card: Option<Said<Model>> = eg("30 thou").upto(0.5)
            .unless("30 thou", "common practice, no source"),
        /// What the laser's beam eats, side to side.
        "laser-kerf": laser_kerf: Option<Said<Model>> = eg("6 thou").within(0.0, 0.060)
            .unless("0 in, a knife", "judgement"),
        /// Materials whose maker allows a laser, though they are refused here.
        "laser-safe": pub laser_safe: Vec<String> = eg("[\"styrene\"]").text(Text::Name)
            .agrees("the materials sold or on the rack"),
    }
}

impl OnPaper {
    /// The paper the job names, if it names one.
    ///
    /// # Errors
    /// When there is no paper of that name.
    pub fn size(&self) -> Result<Option<Paper>, Stop> {
        self.size.as_deref().map(Paper::find).transpose()
    }

    /// What the printer does to a length.
    ///
    /// # Errors
    /// When only one bar was measured, or [`PrintCheck::measured`] refuses.
    pub fn check(&self) -> Result<PrintCheck, Stop> {
        match (&self.across, &self.up) {
            (None, None) => Ok(PrintCheck::default()),
            (Some(across), Some(up)) => {
                PrintCheck::measured(across.length(), up.length(), self.twice)
            }
            _ => Err(Stop::new(
                "checking the print",
                "only one of the two bars was measured",
                "measure both: each direction has a stretch of its own",
            )),
        }
    }

    /// Thickness of the card.
    ///
    /// # Errors
    /// When it is no thickness.
    pub fn card(&self) -> Result<ModelLength, Stop> {
        let card = self.card.as_ref().map_or(ModelLength::thou(CARD_THOU), Said::length);
        if card > ModelLength::ZERO && card < ModelLength::inches(0.5) {
            return Ok(card);
        }
        Err(Stop::new("taking the card", "card is thinner than half an inch, and not nothing", ""))
    }

    /// The laser's kerf; nothing for a knife.
    ///
    /// # Errors
    /// When it is less than nothing or wider than any beam.
    pub fn laser_kerf(&self) -> Result<ModelLength, Stop> {
        let kerf = self.laser_kerf.as_ref().map_or(ModelLength::ZERO, Said::length);
        kerf_allowed(kerf)
    }
}

/// A kerf that a beam can have.
///
/// # Errors
/// When it is less than nothing or wider than any beam.
pub fn kerf_allowed(kerf: ModelLength) -> Result<ModelLength, Stop> {
    if kerf >= ModelLength::ZERO && kerf <= ModelLength::thou(WIDEST_KERF_THOU) {
        return Ok(kerf);
    }
    Err(Stop::new(
        "allowing for the kerf",
        format!("a kerf of {:.0} thou is no beam's", kerf.in_thou()),
        "3 to 18 thou is usual; cut a test square and measure",
    ))
}
