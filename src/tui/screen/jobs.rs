//! The jobs that can be opened: a new one, the last ones, those built in.

use std::path::{Path, PathBuf};

use crate::job::demo::DEMOS;

/// One job of the offer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Offer {
    /// A new one.
    New,
    /// A file worked on before.
    Last(PathBuf),
    /// One built in: its name, and what it shows.
    BuiltIn(&'static str, &'static str),
}

/// What is offered, in the order shown: the last jobs first after the new one.
#[must_use]
pub fn offers(last: &[PathBuf]) -> Vec<Offer> {
    let last = last.iter().cloned().map(Offer::Last);
    let built_in = DEMOS.iter().map(|demo| Offer::BuiltIn(demo.name, demo.about));
    std::iter::once(Offer::New).chain(last).chain(built_in).collect()
}

impl Offer {
    /// The heading it stands under.
    #[must_use]
    pub fn heading(&self) -> &'static str {
        match self {
            Self::New => "Begin",
            Self::Last(_) => "Go on with",
            Self::BuiltIn(..) => "Try one that is built in",
        }
    }

    /// What it is called, and what is said of it.
    #[must_use]
    pub fn words(&self) -> (String, String) {
        match self {
            Self::New => ("a new job".to_owned(), "five short questions".to_owned()),
            Self::Last(path) => {
                let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy();
                let folder = path.parent().map(Path::display);
                (name.into_owned(), folder.map_or(String::new(), |folder| folder.to_string()))
            }
            Self::BuiltIn(name, about) => ((*name).to_owned(), (*about).to_owned()),
        }
    }
}
