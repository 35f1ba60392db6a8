//! Cautions by material and by step: `data/cautions.toml`.

use serde::Deserialize;

use super::row::{Tag, merge, own, rows};
use super::{DataFile, double_trouble};

/// A material and what a laser makes of it.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Material {
    /// What it is called.
    pub key: String,
    /// Words by which the name of a stock tells it.
    pub words: Vec<String>,
    /// Whether a laser may cut it.
    pub laser: bool,
    /// What to bear in mind.
    pub why: String,
    /// Where the row comes from.
    #[serde(default = "own")]
    pub source: String,
    /// How it is known.
    #[serde(default)]
    pub tag: Tag,
}

/// A step of the work.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Step {
    /// What it is called for.
    pub key: String,
    /// Its heading.
    pub name: String,
    /// What brings it in; empty for every job.
    #[serde(default)]
    pub words: Vec<String>,
    /// What to bear in mind.
    pub says: Vec<String>,
    /// Where the row comes from.
    #[serde(default = "own")]
    pub source: String,
    /// How it is known.
    #[serde(default)]
    pub tag: Tag,
}

/// What can hurt, and what to do.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cautions {
    /// Materials, those no laser may cut first.
    #[serde(default, rename = "material")]
    pub materials: Vec<Material>,
    /// Steps, in the order of the work.
    #[serde(default, rename = "step")]
    pub steps: Vec<Step>,
}

/// Words this short must stand by themselves.
const SHORT: usize = 4;

/// Whether a name holds a word.
fn holds(name: &str, word: &str) -> bool {
    let (name, word) = (name.to_lowercase(), word.to_lowercase());
    if word.chars().count() > SHORT {
        return name.contains(&word);
    }
    name.split(|c: char| !c.is_alphanumeric()).any(|part| part == word)
}

impl Cautions {
    /// The material that a name tells; nothing for one that is not known.
    #[must_use]
    pub fn material(&self, name: &str) -> Option<&Material> {
        let told = |row: &&Material| row.words.iter().any(|word| holds(name, word));
        let refused = self.materials.iter().filter(|row| !row.laser).find(told);
        refused.or_else(|| self.materials.iter().find(told))
    }

    /// The steps that a job with such materials and things comes to.
    pub fn steps<'a>(&'a self, things: &'a [String]) -> impl Iterator<Item = &'a Step> {
        let told = |word: &String| things.iter().any(|thing| holds(thing, word));
        self.steps.iter().filter(move |step| step.words.is_empty() || step.words.iter().any(told))
    }
}

rows! {
    Material, self => self.key.clone();
    Step, self => self.key.clone();
}

impl DataFile for Cautions {
    const NAME: &'static str = "cautions.toml";

    fn trouble(&self) -> Option<String> {
        double_trouble(&self.materials).or_else(|| double_trouble(&self.steps)).or_else(|| {
            let bare = self.materials.iter().find(|row| row.words.iter().all(String::is_empty))?;
            Some(format!("{} has no word it is known by", bare.key))
        })
    }

    fn merged(&self, own: &Self) -> Self {
        Self {
            materials: merge(&self.materials, &own.materials),
            steps: merge(&self.steps, &own.steps),
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::catalog::Catalog;

    #[test]
    fn what_no_laser_may_cut_is_told_by_its_name() {
        let cautions = Catalog::built_in().expect("data").cautions;
        for name in [
            "vinyl siding",
            "styrene",
            "white Polystyrene sheet",
            "ABS",
            "polycarbonate",
            "foam board",
            "coated card",
            "treated wood",
            "plastic, unknown",
        ] {
            assert!(cautions.material(name).is_some_and(|row| !row.laser), "{name}");
        }
        for name in ["wood", "basswood", "card", "museum board", "paper", "acrylic"] {
            assert!(cautions.material(name).is_some_and(|row| row.laser), "{name}");
        }
        assert!(cautions.material("unobtainium").is_none());
        // A short word is not found inside another.
        assert!(cautions.material("absinthe-coloured card").is_some_and(|row| row.laser));
    }

    #[test]
    fn steps_follow_what_the_job_uses() {
        let cautions = Catalog::built_in().expect("data").cautions;
        let keys = |things: &[&str]| {
            let things: Vec<String> = things.iter().map(|it| (*it).to_owned()).collect();
            cautions.steps(&things).map(|step| step.key.clone()).collect::<Vec<_>>()
        };
        assert!(keys(&["styrene"]).contains(&"solvent-cement".to_owned()));
        assert!(!keys(&["wood"]).contains(&"solvent-cement".to_owned()));
        assert!(keys(&["wood"]).contains(&"stain".to_owned()));
        assert!(keys(&[]).contains(&"cells".to_owned()));
    }
}
