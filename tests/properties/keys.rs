//! Every key of a job does something: some output changes with it.

use scantling::catalog::Catalog;
use scantling::job::Job;
use scantling::job::document::Document;
use scantling::job::grammar::{Kind, Shape, Shaped as _, Text};
use scantling::plan::{Plan, plan};
use scantling::report::{Seen, VIEWS, takeoff, text};
use toml_edit::{DocumentMut, Item, TableLike, Value};

const EVERY: &str = include_str!("every_key.toml");

/// What a job is told as, part by part: every view, and why each part has its
/// size.
struct Told {
    document: Document,
    plan: Plan,
}

impl Told {
    /// Nothing where the job is refused.
    fn of(job: &str, catalog: &Catalog) -> Option<Self> {
        let document = Document::read("every_key.toml", job, catalog).ok()?;
        let plan = plan(document.job(), catalog);
        Some(Self { document, plan })
    }

    fn parts<'a>(&'a self, catalog: &'a Catalog) -> impl Iterator<Item = String> + 'a {
        let seen = Seen { job: self.document.job(), catalog, plan: &self.plan };
        let views = VIEWS.iter().map(move |kind| text::view(&kind.shown(seen)));
        let json = VIEWS.iter().map(move |kind| kind.told(seen).to_string());
        let parts = self.plan.takeoff.iter().flat_map(|taken| &taken.parts);
        let why =
            parts.filter_map(move |part| Some(takeoff::why(seen, &part.label).ok()?.to_string()));
        views.chain(json).chain(why)
    }
}

type Visit<'a> = dyn FnMut(&'static Shape, &mut dyn TableLike) + 'a;

/// Visits every table of a job with its shape.
fn walk(shape: &'static Shape, table: &mut dyn TableLike, visit: &mut Visit<'_>) {
    visit(shape, table);
    for key in shape.keys {
        if let Some(item) = table.get_mut(key.name) {
            walk_item((key.kind)(), item, visit);
        }
    }
}

fn walk_item(kind: Kind, item: &mut Item, visit: &mut Visit<'_>) {
    match (kind, item) {
        (Kind::Either(one, other), item) => {
            walk_item(one(), item, visit);
            walk_item(other(), item, visit);
        }
        (Kind::Table(shape), Item::Table(table)) => walk(shape(), table, visit),
        (Kind::Table(shape), Item::Value(Value::InlineTable(table))) => walk(shape(), table, visit),
        (Kind::List(inner), Item::ArrayOfTables(rows)) => {
            if let Kind::Table(shape) = inner() {
                rows.iter_mut().for_each(|row| walk(shape(), row, visit));
            }
        }
        (Kind::List(inner), Item::Value(Value::Array(list))) => {
            if let Kind::Table(shape) = inner() {
                let tables = list.iter_mut().filter_map(Value::as_inline_table_mut);
                tables.for_each(|row| walk(shape(), row, visit));
            }
        }
        _ => {}
    }
}

/// Values to try under a key in place of another.
fn others(kind: Kind, text: Text, example: &str, now: Option<&str>) -> Vec<String> {
    let quoted = |all: &[&str]| all.iter().map(|it| format!("\"{it}\"")).collect::<Vec<_>>();
    let mut all = match kind {
        Kind::Flag => vec!["true".to_owned(), "false".to_owned()],
        Kind::Choice(words) => words.iter().map(|word| format!("\"{}\"", word.word)).collect(),
        Kind::Count => ["1", "2", "3", "5", "8", "16"].map(str::to_owned).into(),
        Kind::Number => ["0.1", "0.7", "1.9", "3.1", "60.0"].map(str::to_owned).into(),
        Kind::Length(_) | Kind::Size => quoted(&[
            "3 thou",
            "20 thou",
            "0.2 in",
            "1 in",
            "3 in",
            "9 in",
            "2 ft 1 in",
            "6 ft 3 in",
            "11 ft",
            "31 ft",
        ]),
        Kind::Electric("voltage") => quoted(&["2.9 V", "10 V", "14 V", "17 V"]),
        Kind::Electric("current") => quoted(&["2 mA", "90 mA", "600 mA"]),
        Kind::Electric(_) => quoted(&["1 kohm", "2.2 kohm"]),
        Kind::Text if text == Text::Pitch => quoted(&["4:12", "9:12"]),
        Kind::Text if text == Text::Angle => quoted(&["3 deg", "15 deg"]),
        Kind::Text => quoted(&["another", "2026-06-01", "E24", "a4", "1:87.1"]),
        _ => Vec::new(),
    };
    all.insert(0, example.to_owned());
    all.retain(|one| !one.is_empty() && now != Some(one.as_str()));
    all
}

/// The job with one key of one table changed, in every way there is to try.
fn changed(shape: &'static Shape, key: &str, table: usize) -> Vec<String> {
    let mut out = Vec::new();
    let known = shape.key(key).expect("a key of the shape");
    let mut now = None;
    edited(shape, table, &mut |it| {
        now = it.get(key).and_then(Item::as_value).map(|value| value.to_string().trim().to_owned());
    });
    if now.is_some() && !known.rule.required {
        out.extend(edited(shape, table, &mut |it| drop(it.remove(key))));
    }
    for text in others((known.kind)(), known.rule.text, &known.example(), now.as_deref()) {
        let Ok(value) = text.parse::<Value>() else { continue };
        out.extend(edited(shape, table, &mut |it| {
            it.insert(key, Item::Value(value.clone()));
        }));
    }
    if let (Some(of), Some(now)) = (known.rule.declares, &now) {
        // A name is changed wherever it stands.
        let _ = of;
        let name = now.trim_matches('"');
        let renamed = EVERY.replace(&format!("\"{name}\""), &format!("\"{name}_b\""));
        // The walls, corners and ridge of a body are called after it.
        out.push(renamed.replace(&format!("\"{name}/"), &format!("\"{name}_b/")));
    }
    out
}

/// The job after an edit of the table that comes so manyth of its shape.
fn edited(
    shape: &'static Shape,
    at: usize,
    edit: &mut dyn FnMut(&mut dyn TableLike),
) -> Option<String> {
    let mut file: DocumentMut = EVERY.parse().expect("it parses");
    let (mut seen, mut found) = (0, false);
    walk(Job::SHAPE, file.as_table_mut(), &mut |here, table| {
        if here.head.name == shape.head.name {
            if seen == at {
                edit(table);
                found = true;
            }
            seen += 1;
        }
    });
    found.then(|| file.to_string())
}

/// Keys of a table that change nothing, whatever is written.
fn dead(shape: &'static Shape, before: &[String], catalog: &Catalog) -> Vec<String> {
    let many = (0..).take_while(|at| edited(shape, *at, &mut |_| {}).is_some()).count();
    let lives = |key: &str| {
        (0..many).any(|at| {
            let tries = changed(shape, key, at).into_iter();
            tries.filter_map(|job| Told::of(&job, catalog)).any(|after| {
                // The first view that differs is enough.
                let mut left = before.iter();
                after.parts(catalog).any(|part| left.next() != Some(&part)) || left.next().is_some()
            })
        })
    };
    let idle = shape.keys.iter().filter(|key| !lives(key.name));
    idle.map(|key| format!("{}.{}", shape.head.name, key.name)).collect()
}

/// Takes minutes: `SCANTLING_TABLE=body.roof` looks at one table alone.
#[test]
#[ignore = "takes minutes: cargo test --test properties keys -- --ignored"]
fn every_key_of_the_grammar_changes_some_output() {
    let catalog = Catalog::built_in().expect("the built-in data reads");
    let document = Document::read("every_key.toml", EVERY, &catalog);
    document.unwrap_or_else(|error| panic!("{error}"));
    let before: Vec<String> =
        Told::of(EVERY, &catalog).expect("it reads").parts(&catalog).collect();
    let only = std::env::var("SCANTLING_TABLE").ok();
    let tables = scantling::job::grammar::tables();
    let shapes: Vec<&'static Shape> = tables
        .iter()
        .map(|listed| listed.shape)
        .filter(|shape| shape.head.name != "file")
        .filter(|shape| only.as_deref().is_none_or(|only| only == shape.head.name))
        .collect();
    let (left, right) = shapes.split_at(shapes.len() / 2);
    let find = |shapes: &[&'static Shape]| -> Vec<String> {
        shapes.iter().flat_map(|shape| dead(shape, &before, &catalog)).collect()
    };
    let all = std::thread::scope(|scope| {
        let other = scope.spawn(|| find(right));
        let mut all = find(left);
        all.extend(other.join().expect("it ends"));
        all
    });
    assert!(all.is_empty(), "these keys change nothing: {}", all.join(", "));
}
