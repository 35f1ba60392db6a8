//! The nearest of a list of single sizes, and what taking it costs.

use crate::catalog::stock::Stock;
use crate::quantity::{
    Exact, Model, ModelLength, Prototype, PrototypeLength, Scale, Unit, Written,
};

/// What a listed size is a size of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Form {
    /// A side of a strip.
    Strip,
    /// The thickness of a sheet.
    Sheet,
}

/// A single size of the catalogue.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Listed {
    /// What it is made of.
    pub material: String,
    /// What it is a size of.
    pub form: Form,
    /// The size as the catalogue writes it.
    pub text: String,
    /// The unit it is sold by: inches and millimetres are two racks.
    pub unit: Unit,
    /// The size.
    pub size: Exact<Model>,
}

/// Every single size of the catalogue, once: sides of strips and thicknesses of
/// sheets, in the order of the catalogue.
#[must_use]
pub fn listed(stock: &Stock) -> Vec<Listed> {
    let mut all: Vec<Listed> = Vec::new();
    let mut add = |material: &str, form, written: &Written<Model>| {
        let one = Listed {
            material: material.to_owned(),
            form,
            text: written.text().to_owned(),
            unit: written.unit(),
            size: written.exact(),
        };
        if !all.contains(&one) {
            all.push(one);
        }
    };
    for strip in &stock.strips {
        add(&strip.material, Form::Strip, &strip.thickness);
        strip.widths.iter().for_each(|width| add(&strip.material, Form::Strip, width));
    }
    for sheet in &stock.sheets {
        add(&sheet.material, Form::Sheet, &sheet.thickness);
    }
    all
}

/// The nearest of `sizes` to a wanted length; the first of equals.
pub fn nearest<T>(
    wanted: f64,
    sizes: impl IntoIterator<Item = T>,
    size_of: impl Fn(&T) -> f64,
) -> Option<T> {
    let off = |size: &T| (size_of(size) - wanted).abs();
    sizes.into_iter().min_by(|a, b| off(a).total_cmp(&off(b)))
}

/// What taking one size for another costs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Miss {
    /// Size taken less size wanted, on the model.
    pub model: ModelLength,
    /// The same at full size.
    pub full: PrototypeLength,
    /// The same in hundredths of the size wanted.
    pub percent: f64,
}

impl Miss {
    /// Of a model size taken for a model size wanted.
    #[must_use]
    pub fn of(taken: ModelLength, wanted: ModelLength, scale: &Scale) -> Self {
        let model = taken - wanted;
        let full = scale.enlarge::<Prototype>(model);
        Self { model, full, percent: 100.0 * (model / wanted) }
    }

    /// Whether it is within that share of the size wanted.
    #[must_use]
    pub fn is_within(&self, share: f64) -> bool {
        self.percent.abs() <= 100.0 * share
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::Catalog;
    use crate::quantity::Ratio;

    #[test]
    fn each_size_is_listed_once() {
        let catalog = Catalog::built_in().unwrap();
        let all = listed(&catalog.stock);
        let halves = all.iter().filter(|one| one.text == "1/2 in" && one.form == Form::Strip);
        assert_eq!(halves.count(), 1);
        assert!(all.iter().any(|one| one.material == "card"));
    }

    #[test]
    fn the_first_of_two_equally_near_is_taken() {
        assert_eq!(nearest(2.0, [1.0, 3.0], |size| *size), Some(1.0));
        assert_eq!(nearest(2.0, [], |size: &f64| *size), None);
    }

    #[test]
    fn a_thirty_second_is_36_percent_over_a_two_inch_plank_in_ho() {
        let scale = Scale::new("HO", Ratio::new(3048, 35).unwrap());
        let wanted = scale.reduce(PrototypeLength::inches(2.0));
        let miss = Miss::of(ModelLength::inches(1.0 / 32.0), wanted, &scale);
        assert!((miss.percent - 36.07).abs() < 0.01);
        assert!((miss.full.in_inches() - 0.7214).abs() < 1e-4);
        assert!(miss.is_within(0.37) && !miss.is_within(0.36));
    }
}
