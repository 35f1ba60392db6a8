//! Forms that change what the compression is bound by, tried out while they are
//! typed.

use super::forms::{form, value};
use super::mock_up;
use crate::elevation::sized::{Element, Kind};
use crate::job::body::FaceId;
use crate::job::edit::Edit;
use crate::job::said::Said;
use crate::quantity::Model;
use crate::tui::effect::Effect;
use crate::tui::state::{Form, Over, Purpose, State};

/// The keys of the place that are asked for.
const SPACE: [&str; 4] = ["length", "depth", "height", "margin"];

/// Asks for the place.
pub(super) fn space(state: &State) -> Form {
    let place = state.document.job().space.as_ref();
    let said = |size: fn(&crate::job::place::Space) -> &Option<Said<Model>>| {
        place.and_then(|place| size(place).as_ref()).map_or("", |said| said.text())
    };
    let sizes = [
        said(|place| &place.length),
        said(|place| &place.depth),
        said(|place| &place.height),
        said(|place| &place.margin),
    ];
    let fields: Vec<_> = SPACE.into_iter().zip(sizes).collect();
    let about = ["On the model, with its unit: 19 in, 480 mm. Empty sets no limit."];
    form("The place the model stands in", Purpose::Space, &about, &fields)
}

/// Asks for the tolerance and weight of a feature.
pub(super) fn weigh(state: &State, key: String) -> Form {
    let own = state.document.job().look.weights.iter().find(|own| own.feature == key);
    let data = state.catalog.look.get(&key);
    let text = |figure: Option<f64>| figure.map_or(String::new(), |figure| figure.to_string());
    let tau = text(own.and_then(|own| own.tau));
    let weight = text(own.and_then(|own| own.weight));
    let shipped = data.map_or(String::new(), |row| {
        let tau = text(row.tau.or(row.z));
        format!("Empty takes those of the data: tolerance {tau}, weight {}.", row.weight)
    });
    let about = ["Judgement: none of it was tried on people.", shipped.as_str()];
    let fields = [("tolerance", tau.as_str()), ("weight", weight.as_str())];
    let name = data.map_or(key.clone(), |row| row.name.clone());
    form(format!("The weight of: {name}"), Purpose::Weigh(key), &about, &fields)
}

/// Asks for the bounds of an element.
pub(super) fn bound(state: &State, path: String) -> Form {
    let element = element(state, &path);
    let keys: Vec<&'static str> = match element.map(|element| &element.kind) {
        Some(Kind::Plain { .. }) => vec!["least", "most"],
        Some(Kind::Bays { .. }) => vec!["least", "at-least", "at-most"],
        Some(Kind::Repeat { .. }) => vec!["at-least", "at-most"],
        _ => Vec::new(),
    };
    let notation = state.document.job().about.full_notation();
    let now = |key: &str| match element.map(|element| &element.kind) {
        Some(Kind::Plain { least, most, .. }) => {
            let size = if key == "least" { least } else { most };
            size.map_or(String::new(), |size| notation.show(&size))
        }
        Some(Kind::Bays { least, .. }) if key == "least" => {
            least.map_or(String::new(), |size| notation.show(&size))
        }
        Some(Kind::Bays { times, .. } | Kind::Repeat { times, .. }) => {
            let count = if key == "at-least" { times.at_least } else { times.at_most };
            count.to_string()
        }
        _ => String::new(),
    };
    let texts: Vec<(&str, String)> = keys.iter().map(|key| (*key, now(key))).collect();
    let fields: Vec<(&str, &str)> = texts.iter().map(|(key, text)| (*key, text.as_str())).collect();
    let about = ["At full size, with its unit: 4 ft 6 in. Empty goes back to the usual bound."];
    form(format!("Bounds of {path}"), Purpose::Bound(path, keys), &about, &fields)
}

fn element<'a>(state: &'a State, path: &str) -> Option<&'a Element> {
    let (face, name) = FaceId::split(path)?;
    let faces = state.plan.as_ref()?.faces.as_ref().ok()?;
    find(&faces.rows.iter().find(|row| row.id == face)?.row, name)
}

fn find<'a>(row: &'a [Element], name: &str) -> Option<&'a Element> {
    row.iter().find_map(|element| match &element.kind {
        _ if element.name == name => Some(element),
        Kind::Repeat { row, .. } => find(row, name),
        _ => None,
    })
}

/// The edits a form of this kind stands for; those that change nothing are left
/// out, so that each edit can be taken back by itself.
pub(super) fn edits(state: &State, form: &Form) -> Vec<Edit> {
    match &form.purpose {
        Purpose::Space => {
            let before = space(state);
            let changed = (0..SPACE.len()).filter(|at| value(&before, *at) != value(form, *at));
            changed
                .map(|at| Edit::SetSpace { key: SPACE[at].to_owned(), to: value(form, at) })
                .collect()
        }
        Purpose::Weigh(feature) => vec![Edit::Weigh {
            feature: feature.clone(),
            tau: value(form, 0),
            weight: value(form, 1),
        }],
        Purpose::Bound(element, keys) => {
            let keys =
                keys.iter().enumerate().map(|(at, key)| ((*key).to_owned(), value(form, at)));
            vec![Edit::Bound { element: element.clone(), keys: keys.collect() }]
        }
        _ => Vec::new(),
    }
}

/// Asks what the change being typed would come to, once for each text.
pub(super) fn trial(state: &mut State) -> Option<Effect> {
    let form = match state.over.last() {
        Some(Over::Form(form))
            if matches!(
                form.purpose,
                Purpose::Space | Purpose::Weigh(_) | Purpose::Bound(..) | Purpose::TakeBack(_)
            ) =>
        {
            form.clone()
        }
        _ => {
            state.trial.built = None;
            state.trial.typed.clear();
            return None;
        }
    };
    let taken = matches!(form.purpose, Purpose::TakeBack(_));
    // The reason changes nothing of the building.
    let first = usize::from(taken);
    let typed: Vec<String> = (first..form.fields.len()).map(|at| value(&form, at)).collect();
    if typed == state.trial.typed {
        return None;
    }
    state.trial.typed = typed;
    state.trial.number += 1;
    let mut document = state.document.clone();
    let catalog = state.catalog.clone();
    let changes = match &form.purpose {
        Purpose::TakeBack(name) => match mock_up::taken(state, &form, name) {
            Ok(edit) => vec![edit],
            Err(trouble) => {
                say(state, trouble);
                return None;
            }
        },
        _ => edits(state, &form),
    };
    for change in changes {
        if let Err(error) = document.apply(&change, &catalog) {
            say(state, error.trouble);
            return None;
        }
    }
    let mut job = document.job().clone();
    if !taken {
        // Another choice may be better now: the trial looks at all of them.
        job.choice = None;
    }
    Some(Effect::Try { number: state.trial.number, job: Box::new(job) })
}

fn say(state: &mut State, trouble: String) {
    state.trial.built = None;
    if let Some(Over::Form(form)) = state.over.last_mut() {
        form.preview = vec![trouble];
    }
}
