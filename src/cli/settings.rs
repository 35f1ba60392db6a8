//! What a person wants every time: kept in `scantling/settings.toml` in the
//! usual folder for settings, shown and changed by the verb `settings`.

use std::fs;
use std::path::{Path, PathBuf};

use clap::{Arg, ArgMatches, Command};
use etcetera::BaseStrategy as _;
use serde::{Deserialize, Serialize};

use super::output::Failure;
use crate::catalog::Catalog;
use crate::disk::{Change, read};
use crate::quantity::Unit;

/// Settings; what is absent is as the program would have it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(super) struct Settings {
    /// Scale of the bench and of new jobs.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) scale: Option<String>,
    /// Unit of bare numbers at the bench.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) unit: Option<String>,
    /// `dark`, `light`, or `ask` the terminal.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) ground: Option<Ground>,
    /// `plain` for ASCII only.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) signs: Option<Signs>,
    /// `on` or `off`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) mouse: Option<Switch>,
}

/// The ground letters stand on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, clap::ValueEnum)]
#[serde(rename_all = "kebab-case")]
pub(super) enum Ground {
    /// Light letters on dark.
    Dark,
    /// Dark letters on light.
    Light,
    /// As the terminal says.
    Ask,
}

/// The signs that may be printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, clap::ValueEnum)]
#[serde(rename_all = "kebab-case")]
pub(super) enum Signs {
    /// Every sign the locale has.
    All,
    /// ASCII only.
    Plain,
}

/// On or off.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, clap::ValueEnum)]
#[serde(rename_all = "kebab-case")]
pub(super) enum Switch {
    /// On.
    On,
    /// Off.
    Off,
}

/// The options that set how the terminal looks, for one run or for good.
pub(super) fn looks() -> [Arg; 3] {
    [
        Arg::new("ground")
            .long("ground")
            .value_parser(clap::value_parser!(Ground))
            .help("Letters on a dark or a light ground, or ask the terminal"),
        Arg::new("signs")
            .long("signs")
            .value_parser(clap::value_parser!(Signs))
            .help("All signs, or plain ASCII"),
        Arg::new("mouse")
            .long("mouse")
            .value_parser(clap::value_parser!(Switch))
            .help("Whether the mouse is listened to"),
    ]
}

/// The verb.
pub(super) fn command() -> Command {
    Command::new("settings")
        .about("Show what is set for every run, or set it: scale, unit, ground, signs, mouse")
        .arg(Arg::new("scale").long("scale").value_name("SCALE").help("Scale taken at the bench"))
        .arg(Arg::new("unit").long("unit").value_name("UNIT").help("Unit of bare numbers"))
        .args(looks())
}

/// Where the settings are kept, if the system has such a place.
fn file() -> Option<PathBuf> {
    let base = etcetera::choose_base_strategy().ok()?;
    Some(base.config_dir().join("scantling").join("settings.toml"))
}

impl Settings {
    /// The settings kept, or none when there is no file.
    pub(super) fn kept() -> Result<Self, Failure> {
        file().map_or_else(|| Ok(Self::default()), |path| Self::read(&path))
    }

    fn read(path: &Path) -> Result<Self, Failure> {
        match read::text(path) {
            Ok(text) => Self::of(path, &text),
            Err(error) if error.is_not_there() => Ok(Self::default()),
            Err(error) => Err(Failure::failed(format!("reading the settings: {error}"))),
        }
    }

    fn of(path: &Path, text: &str) -> Result<Self, Failure> {
        toml::from_str(text).map_err(|error| {
            let told = error.to_string();
            Failure::failed(format!("reading the settings {}: {told}", path.display()))
        })
    }

    /// These settings with what the command line says laid over them.
    pub(super) fn with(mut self, matches: &ArgMatches) -> Self {
        let word = |name: &str| matches.try_get_one::<String>(name).ok().flatten().cloned();
        self.scale = word("scale").or(self.scale);
        self.unit = word("unit").or(self.unit);
        self.ground = one(matches, "ground").or(self.ground);
        self.signs = one(matches, "signs").or(self.signs);
        self.mouse = one(matches, "mouse").or(self.mouse);
        self
    }
}

fn one<T: Copy + Send + Sync + 'static>(matches: &ArgMatches, name: &str) -> Option<T> {
    matches.try_get_one::<T>(name).ok().flatten().copied()
}

/// Shows the settings, or changes them and shows what they are now.
pub(super) fn run(matches: &ArgMatches, catalog: &Catalog) -> Result<String, Failure> {
    let path = file().ok_or_else(|| Failure::failed("there is no folder for settings here"))?;
    let mut now = Settings::read(&path)?.with(matches);
    if now != Settings::read(&path)? {
        now = change(&path, matches, catalog)?;
    }
    let text = toml::to_string(&now).map_err(Failure::failed)?;
    let text = if text.is_empty() { "nothing is set\n".to_owned() } else { text };
    Ok(format!("{}\n{text}", path.display()))
}

/// Refuses a scale or unit that would fail at every run.
fn check(settings: &Settings, catalog: &Catalog) -> Result<(), Failure> {
    if let Some(scale) = &settings.scale {
        catalog.scales.find(scale)?;
    }
    match &settings.unit {
        Some(unit) if Unit::from_word(unit.trim()).is_none() => Err(Failure::wrong_use(format!(
            "--unit {unit} is no unit of length\nhint: write ft, in, thou, mm, cm or m"
        ))),
        _ => Ok(()),
    }
}

/// Lays what the command line says over the settings kept, as one step.
fn change(path: &Path, matches: &ArgMatches, catalog: &Catalog) -> Result<Settings, Failure> {
    let told = |error: &dyn std::fmt::Display| {
        Failure::failed(format!("writing the settings {}: {error}", path.display()))
    };
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder).map_err(|error| told(&error))?;
    }
    let change = Change::begin(path).map_err(|error| told(&error))?;
    let before = change.text().map_err(|error| told(&error))?.unwrap_or_default();
    let now = Settings::of(path, &before)?.with(matches);
    check(&now, catalog)?;
    let text = toml::to_string(&now).map_err(|error| told(&error))?;
    change.replace(text.as_bytes()).map_err(|error| told(&error))?;
    Ok(now)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(words: &[&str]) -> Settings {
        let matches = command().get_matches_from(words);
        Settings::default().with(&matches)
    }

    #[test]
    fn what_is_written_is_read_again() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("deep/settings.toml");
        let catalog = Catalog::built_in().expect("data");
        let words = ["settings", "--scale", "1:48", "--ground", "light", "--mouse", "off"];
        let matches = command().get_matches_from(words);
        let settings = change(&path, &matches, &catalog).expect("written");
        assert_eq!(Settings::read(&path).expect("read"), settings);
        // What is set later leaves the rest.
        let more = command().get_matches_from(["settings", "--unit", "mm"]);
        let both = change(&path, &more, &catalog).expect("written");
        assert_eq!((both.scale, both.unit), (settings.scale, Some("mm".to_owned())));
    }

    #[test]
    fn a_scale_that_is_none_is_refused() {
        let catalog = Catalog::built_in().expect("data");
        assert!(check(&asked(&["settings", "--scale", "G"]), &catalog).is_err());
        assert!(check(&asked(&["settings", "--unit", "cubit"]), &catalog).is_err());
    }

    #[test]
    fn a_key_that_is_not_known_is_said() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("settings.toml");
        fs::write(&path, "scael = \"HO\"\n").expect("written");
        let told = format!("{:?}", Settings::read(&path).expect_err("no such key"));
        assert!(told.contains("scael"), "{told}");
    }
}
