//! The bench: one field that takes any sum of the desk book, and what it is
//! asked beside: the scale, another, an object of known size.

use crossterm::event::KeyCode;
use tui_input::Input;
use tui_input::backend::crossterm::EventHandler as _;

use crate::bench::{
    Answer as SumAnswer, Ask, Bench as Answer, Comparison, Desk, Found, Given, Look, Sum, answer,
    ask, offered,
};
use crate::catalog::Catalog;
use crate::catalog::objects::KnownObject;
use crate::finding::{Finding, Stop};
use crate::quantity::{NotationError, Reading, Space, Stated, Unit, Written, parse_stated};
use crate::tui::action::{Command, Key};

/// The fields, in the order of the arrows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Slot {
    /// What is asked.
    Ask,
    /// What a length without a word for it is.
    Sense,
    /// The scale of the model.
    Scale,
    /// Another scale.
    Other,
    /// The object of known size.
    Object,
    /// The object on the print.
    ObjectPrint,
    /// The wanted length on the print.
    Print,
}

impl Slot {
    /// All of them.
    pub const ALL: [Self; 7] = [
        Self::Ask,
        Self::Sense,
        Self::Scale,
        Self::Other,
        Self::Object,
        Self::ObjectPrint,
        Self::Print,
    ];

    /// What is asked.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::Ask => "ask",
            Self::Sense => "which is",
            Self::Scale => "scale",
            Self::Other => "other scale",
            Self::Object => "known object",
            Self::ObjectPrint => "on the print",
            Self::Print => "wanted there",
        }
    }
}

/// What the length is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Sense {
    /// Full size.
    #[default]
    Full,
    /// On the model.
    Model,
    /// By comparison on a print.
    Compared,
}

impl Sense {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Full => "full size",
            Self::Model => "on the model",
            Self::Compared => "by comparison",
        }
    }

    fn turned(self, step: isize) -> Self {
        let all = [Self::Full, Self::Model, Self::Compared];
        let at = all.iter().position(|one| *one == self).unwrap_or(0) as isize;
        all[(at + step).rem_euclid(3) as usize]
    }
}

/// What the bench answers.
#[derive(Clone, Debug)]
pub enum Reply {
    /// Everything about one length.
    Length(Box<Answer>, Vec<Finding>),
    /// The answer of a sum.
    Sum(Box<SumAnswer>),
    /// The sums there are, where nothing is asked.
    Contents(Vec<&'static Sum>),
}

/// What a job fills in at the bench.
#[derive(Clone, Copy, Debug)]
pub struct Known {
    /// The year of the building.
    pub year: Option<i32>,
    /// How lengths are written.
    pub look: Look,
}

/// What the bench knows.
#[derive(Clone, Debug)]
pub struct Bench {
    /// The texts of the fields, in the order of [`Slot::ALL`]; turned fields
    /// keep theirs empty.
    pub inputs: [Input; 7],
    /// The field that takes letters.
    pub slot: Slot,
    /// What the length is.
    pub sense: Sense,
    /// The known object, by its place in the catalogue.
    pub object: usize,
    /// Whether letters go into the field.
    pub typing: bool,
    /// Whether the answer is shown in large figures.
    pub large: bool,
    /// The line the answer is drawn from.
    pub top: u16,
    /// Whether the field is begun anew by the next letter.
    fresh: bool,
}

impl Bench {
    /// The bench of a job at a scale, with a length to look at.
    #[must_use]
    pub fn new(scale: &str) -> Self {
        let texts =
            ["12 ft 6 1/2 in", "", scale, "HO", "", "23 mm \u{b1} 0.3 mm", "61.5 mm \u{b1} 0.3 mm"];
        Self {
            inputs: texts.map(|text| Input::new(text.to_owned())),
            slot: Slot::Ask,
            sense: Sense::Full,
            object: 0,
            typing: true,
            large: false,
            top: 0,
            fresh: true,
        }
    }

    /// The text of a field.
    #[must_use]
    pub fn text(&self, slot: Slot) -> &str {
        self.inputs[slot as usize].value()
    }

    /// Whether the field is turned with the arrows, not typed.
    #[must_use]
    pub fn is_turned(slot: Slot) -> bool {
        matches!(slot, Slot::Sense | Slot::Object)
    }

    /// The command of a left or right arrow on a field that is turned.
    #[must_use]
    pub fn arrow(&self, key: Key) -> Option<Command> {
        if !Self::is_turned(self.slot) {
            return None;
        }
        match key.code {
            KeyCode::Left => Some(Command::Left),
            KeyCode::Right | KeyCode::Char(' ') => Some(Command::Right),
            _ => None,
        }
    }

    /// To another field.
    pub fn go(&mut self, step: isize) {
        let at = (self.slot as isize + step).rem_euclid(Slot::ALL.len() as isize) as usize;
        self.slot = Slot::ALL[at];
        self.typing = true;
        self.fresh = true;
    }

    /// Turns what the field is set to; on a typed field, what the length is.
    pub fn turn(&mut self, step: isize, catalog: &Catalog) {
        self.top = 0;
        if self.slot == Slot::Object {
            let count = catalog.objects.rows.len().max(1) as isize;
            self.object = (self.object as isize + step).rem_euclid(count) as usize;
            self.sense = Sense::Compared;
        } else {
            self.sense = self.sense.turned(step);
        }
    }

    /// A key for the field. What stood there goes with the first letter, as on
    /// a calculator; an arrow keeps it.
    pub fn typed(&mut self, key: Key) {
        if Self::is_turned(self.slot) {
            return;
        }
        self.top = 0;
        let fresh = std::mem::take(&mut self.fresh);
        let input = &mut self.inputs[self.slot as usize];
        if fresh && matches!(key.code, KeyCode::Char(_) | KeyCode::Backspace) && !key.ctrl {
            input.reset();
        }
        let modifiers = if key.ctrl {
            crossterm::event::KeyModifiers::CONTROL
        } else {
            crossterm::event::KeyModifiers::NONE
        };
        let event = crossterm::event::KeyEvent::new(key.code, modifiers);
        input.handle_event(&crossterm::event::Event::Key(event));
        match self.slot {
            Slot::Ask if self.sense == Sense::Compared => self.sense = Sense::Full,
            Slot::ObjectPrint | Slot::Print => self.sense = Sense::Compared,
            _ => {}
        }
    }

    /// Begins what is asked anew with a figure typed elsewhere.
    pub fn begin(&mut self, figure: char) {
        self.slot = Slot::Ask;
        self.typing = true;
        self.fresh = true;
        self.typed(Key::plain(KeyCode::Char(figure)));
    }

    /// The known object.
    #[must_use]
    pub fn known<'a>(&self, catalog: &'a Catalog) -> Option<&'a KnownObject> {
        catalog.objects.rows.get(self.object)
    }

    /// The answer to what stands in the fields.
    ///
    /// # Errors
    /// The field that cannot be read, and why.
    pub fn answer(&self, catalog: &Catalog, known: Known) -> Result<Reply, Trouble> {
        let scale = |slot: Slot| {
            catalog.scales.find(self.text(slot)).map_err(|stop| Trouble {
                slot,
                message: stop.trouble,
                hint: stop.hint,
                offered: Vec::new(),
            })
        };
        let to = match self.text(Slot::Other).trim() {
            "" => None,
            _ => Some(scale(Slot::Other)?),
        };
        if self.sense == Sense::Compared {
            let ask = Ask { given: self.compared(catalog)?, scale: scale(Slot::Scale)?, to };
            let outcome = answer(&ask, catalog).map_err(|stop| Trouble::stop(Slot::Print, stop))?;
            return Ok(Reply::Length(Box::new(outcome.value), outcome.findings));
        }
        let text = self.text(Slot::Ask);
        if text.trim().is_empty() {
            return Ok(Reply::Contents(offered("")));
        }
        let desk = Desk {
            catalog,
            scale: scale(Slot::Scale)?,
            to,
            year: known.year,
            model: self.sense == Sense::Model,
            // A bare number on the model is in inches; one of the building is
            // asked about.
            unit: (self.sense == Sense::Model).then_some(Unit::Inch),
            look: known.look,
        };
        match ask(text, &desk) {
            Ok(Found::Length(outcome, _)) => {
                Ok(Reply::Length(Box::new(outcome.value), outcome.findings))
            }
            Ok(Found::Sum(answer)) => Ok(Reply::Sum(answer)),
            Err(stop) => {
                let mut trouble = Trouble::stop(Slot::Ask, stop);
                trouble.offered = offered(text);
                Err(trouble)
            }
        }
    }

    fn compared(&self, catalog: &Catalog) -> Result<Given, Trouble> {
        let known = self.known(catalog).ok_or_else(|| Trouble {
            slot: Slot::Object,
            message: "there is no known object".to_owned(),
            hint: String::new(),
            offered: Vec::new(),
        })?;
        Ok(Given::Compared(Box::new(Comparison {
            known: Stated { value: known.size.clone(), sigma: Some(known.spread.clone()) },
            known_print: self.read(Slot::ObjectPrint)?,
            print: self.read(Slot::Print)?,
            set_back: None,
        })))
    }

    /// A reading on a print; a bare number is in millimetres.
    fn read<S: Space>(&self, slot: Slot) -> Result<Stated<Written<S>>, Trouble> {
        let reading = Reading::in_unit(Unit::Millimetre);
        parse_stated(self.text(slot), &reading).map_err(|error| Trouble::notation(slot, &error))
    }
}

/// A field that cannot be read.
#[derive(Clone, Debug)]
pub struct Trouble {
    /// The field.
    pub slot: Slot,
    /// What is wrong.
    pub message: String,
    /// What to write.
    pub hint: String,
    /// Sums that the words so far may ask for.
    pub offered: Vec<&'static Sum>,
}

impl Trouble {
    fn notation(slot: Slot, error: &NotationError) -> Self {
        let (message, hint) = (error.message.clone(), error.hint.clone());
        Self { slot, message, hint, offered: Vec::new() }
    }

    /// A stop in one line, without the place it marks.
    fn stop(slot: Slot, stop: Stop) -> Self {
        let message = stop.trouble.lines().next().unwrap_or_default().to_owned();
        Self { slot, message, hint: stop.hint, offered: Vec::new() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const KNOWN: Known = Known {
        year: Some(1926),
        look: Look {
            full: crate::quantity::Notation::BUILDING,
            model: crate::quantity::Notation::HUNDREDTHS,
            parts: crate::quantity::Denominator::SIXTY_FOURTHS,
        },
    };

    fn typed(bench: &mut Bench, text: &str) {
        for c in text.chars() {
            bench.typed(Key::plain(KeyCode::Char(c)));
        }
    }

    fn length(bench: &Bench) -> Answer {
        let catalog = Catalog::built_in().unwrap();
        match bench.answer(&catalog, KNOWN) {
            Ok(Reply::Length(answer, _)) => *answer,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn a_length_is_answered_while_it_is_typed() {
        let mut bench = Bench::new("1:48");
        typed(&mut bench, "8 ft");
        assert!((length(&bench).model.length().in_inches() - 2.0).abs() < 1e-12);
    }

    #[test]
    fn a_bare_decimal_is_asked_about() {
        let catalog = Catalog::built_in().unwrap();
        let mut bench = Bench::new("1:48");
        typed(&mut bench, "12.6");
        let trouble = bench.answer(&catalog, KNOWN).unwrap_err();
        assert_eq!(trouble.slot, Slot::Ask);
        assert!(trouble.hint.contains("12'-6\""), "{trouble:?}");
    }

    /// The door of 6'-8" at 23 mm and a wall at 61.5 mm: 80 in x 61.5 / 23.
    #[test]
    fn a_wall_is_found_by_its_door() {
        let mut bench = Bench::new("1:48");
        bench.sense = Sense::Compared;
        let answer = length(&bench);
        assert!((answer.full.length().in_inches() - 80.0 * 61.5 / 23.0).abs() < 1e-9);
        assert!(answer.full_sigma.is_some());
    }

    /// The job's year decides the era: in 1926 a 2x12 was 1 5/8 in thick.
    #[test]
    fn any_sum_is_answered_and_a_job_fills_in_what_it_knows() {
        let catalog = Catalog::built_in().unwrap();
        let mut bench = Bench::new("1:48");
        typed(&mut bench, "2x12");
        let Ok(Reply::Sum(answer)) = bench.answer(&catalog, KNOWN) else { panic!("a sum") };
        assert_eq!(answer.sum, "lumber");
        assert!((answer.figures[0].value - 1.625 * 25.4).abs() < 1e-9, "{:?}", answer.figures[0]);
        assert_eq!(answer.lead.len(), 1);
    }

    #[test]
    fn an_empty_field_offers_the_sums_and_a_word_the_like_of_it() {
        let catalog = Catalog::built_in().unwrap();
        let mut bench = Bench::new("1:48");
        typed(&mut bench, " ");
        let Ok(Reply::Contents(all)) = bench.answer(&catalog, KNOWN) else { panic!("the list") };
        assert!(all.len() > 40);
        bench.go(0);
        typed(&mut bench, "shing");
        let trouble = bench.answer(&catalog, KNOWN).unwrap_err();
        assert_eq!(trouble.offered[0].key, "shingles");
    }
}
