//! What `data/` holds, typed.
//!
//! One file here for each file of `data/`. Each row names its source and how it
//! is known. A person's own file of the same form is read over the shipped one,
//! row by row: [`Catalog::with_own`].

pub mod cars;
pub mod cautions;
pub mod clearances;
pub mod fits;
pub mod lamps;
pub mod look;
pub mod lumber;
pub mod methods;
pub mod objects;
pub mod rack;
mod row;
pub mod scales;
pub mod slips;
pub mod stock;

#[cfg(test)]
mod tests;

use std::sync::{Arc, OnceLock};

use serde::de::DeserializeOwned;

use self::cars::Cars;
use self::cautions::Cautions;
use self::clearances::Clearances;
use self::fits::Fits;
use self::lamps::Lamps;
use self::look::Look;
use self::lumber::Lumber;
use self::methods::Methods;
use self::objects::Objects;
use self::rack::Rack;
use self::scales::Scales;
use self::slips::Slips;
use self::stock::Stock;
pub use row::{Row, Tag};

/// The data shipped with the program, with the person's own read over it.
/// A clone shares the data.
#[derive(Clone, Debug)]
pub struct Catalog {
    /// Scales by name.
    pub scales: Arc<Scales>,
    /// Nominal and actual lumber by era.
    pub lumber: Arc<Lumber>,
    /// Sheets and strips sold in common.
    pub stock: Arc<Stock>,
    /// Ways to take a reading.
    pub methods: Arc<Methods>,
    /// Objects of known size.
    pub objects: Arc<Objects>,
    /// Features of the look.
    pub look: Arc<Look>,
    /// Fits, allowances and kerfs.
    pub fits: Arc<Fits>,
    /// What can hurt, by material and step.
    pub cautions: Arc<Cautions>,
    /// Cars that pass.
    pub cars: Arc<Cars>,
    /// Published clearances.
    pub clearances: Arc<Clearances>,
    /// Lamps, resistors and wire.
    pub lamps: Arc<Lamps>,
    /// Slips of the field book.
    pub slips: Arc<Slips>,
    /// What the person has on hand; nothing is shipped.
    pub rack: Arc<Rack>,
}

/// A data file that does not hold.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("reading the data file {file}: {trouble}")]
pub struct CatalogError {
    /// Its name.
    pub file: String,
    /// What is wrong, with the line.
    pub trouble: String,
}

/// A file of `data/`.
pub(crate) trait DataFile: DeserializeOwned {
    /// Its name.
    const NAME: &'static str;

    /// Two rows of one key, or a row that contradicts itself.
    fn trouble(&self) -> Option<String>;

    /// The rows of `own` read over these.
    fn merged(&self, own: &Self) -> Self;

    /// Reads the text of such a file.
    fn read(text: &str) -> Result<Self, CatalogError> {
        let error = |trouble| CatalogError { file: Self::NAME.to_owned(), trouble };
        let file: Self = toml::from_str(text).map_err(|toml| error(toml.to_string()))?;
        file.trouble().map_or(Ok(file), |trouble| Err(error(trouble)))
    }
}

/// What two rows of one key are told.
fn double_trouble<R: Row>(rows: &[R]) -> Option<String> {
    row::double(rows).map(|key| format!("two rows are called {key}"))
}

impl Catalog {
    /// The data shipped with the program, read once.
    ///
    /// # Errors
    ///
    /// When a shipped file is broken; a test proves that none is.
    pub fn built_in() -> Result<Self, CatalogError> {
        static BUILT: OnceLock<Result<Catalog, CatalogError>> = OnceLock::new();
        BUILT.get_or_init(Self::load).clone()
    }

    fn load() -> Result<Self, CatalogError> {
        Ok(Self {
            scales: Arc::new(Scales::read(include_str!("../../data/scales.toml"))?),
            lumber: Arc::new(Lumber::read(include_str!("../../data/lumber.toml"))?),
            stock: Arc::new(Stock::read(include_str!("../../data/stock.toml"))?),
            methods: Arc::new(Methods::read(include_str!("../../data/methods.toml"))?),
            objects: Arc::new(Objects::read(include_str!("../../data/objects.toml"))?),
            look: Arc::new(Look::read(include_str!("../../data/look.toml"))?),
            fits: Arc::new(Fits::read(include_str!("../../data/fits.toml"))?),
            cautions: Arc::new(Cautions::read(include_str!("../../data/cautions.toml"))?),
            cars: Arc::new(Cars::read(include_str!("../../data/cars.toml"))?),
            clearances: Arc::new(Clearances::read(include_str!("../../data/clearances.toml"))?),
            lamps: Arc::new(Lamps::read(include_str!("../../data/lamps.toml"))?),
            slips: Arc::new(Slips::read(include_str!("../../data/slips.toml"))?),
            rack: Arc::default(),
        })
    }

    /// The catalog with the text of the person's own file read over it; the
    /// name says which, such as `stock.toml` or `rack.csv`.
    ///
    /// # Errors
    ///
    /// When the name is none of `data/`, or the text does not hold.
    pub fn with_own(mut self, name: &str, text: &str) -> Result<Self, CatalogError> {
        match name {
            Scales::NAME => over(&mut self.scales, text)?,
            Lumber::NAME => over(&mut self.lumber, text)?,
            Stock::NAME => over(&mut self.stock, text)?,
            Methods::NAME => over(&mut self.methods, text)?,
            Objects::NAME => over(&mut self.objects, text)?,
            Look::NAME => over(&mut self.look, text)?,
            Fits::NAME => over(&mut self.fits, text)?,
            Cautions::NAME => over(&mut self.cautions, text)?,
            Cars::NAME => over(&mut self.cars, text)?,
            Clearances::NAME => over(&mut self.clearances, text)?,
            Lamps::NAME => over(&mut self.lamps, text)?,
            Slips::NAME => over(&mut self.slips, text)?,
            Rack::NAME => self.rack = Arc::new(self.rack.merged(&Rack::read(text)?)),
            _ => {
                let trouble = format!("no such file; there are {}", Self::FILES.join(", "));
                return Err(CatalogError { file: name.to_owned(), trouble });
            }
        }
        Ok(self)
    }

    /// The names of the files a person may have of their own.
    pub const FILES: [&str; 12] = [
        Scales::NAME,
        Lumber::NAME,
        Stock::NAME,
        Methods::NAME,
        Objects::NAME,
        Look::NAME,
        Fits::NAME,
        Cautions::NAME,
        Cars::NAME,
        Clearances::NAME,
        Lamps::NAME,
        Slips::NAME,
    ];
}

fn over<F: DataFile>(shipped: &mut Arc<F>, text: &str) -> Result<(), CatalogError> {
    *shipped = Arc::new(shipped.merged(&F::read(text)?));
    Ok(())
}

/// The names most like a word, for hints.
pub(crate) fn nearest_names<'n>(word: &str, names: impl Iterator<Item = &'n str>) -> Vec<&'n str> {
    let word = word.to_lowercase();
    let likeness = |name: &str| strsim::jaro_winkler(&word, &name.to_lowercase());
    let mut near: Vec<_> =
        names.map(|name| (likeness(name), name)).filter(|(like, _)| *like > 0.6).collect();
    near.sort_by(|a, b| b.0.total_cmp(&a.0));
    near.into_iter().take(3).map(|(_, name)| name).collect()
}
