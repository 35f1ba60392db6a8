//! The names that could stand at a place.

use toml_edit::DocumentMut;

use super::{Holds, Slot, table_of};
use crate::catalog::Catalog;
use crate::job::body::Side;
use crate::job::grammar::{Kind, Named, Node, Shape};
use crate::job::locate::Step;

/// Every name of the job, and of the data, that the key at a place can speak of;
/// none where it names nothing.
#[must_use]
pub fn names(file: &DocumentMut, catalog: &Catalog, slot: &Slot) -> Vec<String> {
    let Some(key) = slot.grammar() else { return Vec::new() };
    let Some(of) = key.rule.names.or_else(|| speaks_of((key.kind)())) else { return Vec::new() };
    let mut found = Vec::new();
    let root = Slot::root();
    if let Holds::Table(shape) = root.holds() {
        let scope = of.is_scoped().then(|| slot.steps().get(..2)).flatten();
        let wanted = of.looks_for();
        gather(shape, Node::from(file.as_item()), &mut Vec::new(), &mut |of, name, steps| {
            let near = scope.is_none_or(|scope| steps.starts_with(scope));
            if wanted.contains(&of) && near {
                found.push(name.to_owned());
            }
        });
    }
    if of == Named::Wall {
        let walls = |body: &String| Side::ALL.map(|side| format!("{body}/{side}"));
        found = found.iter().flat_map(walls).collect();
    }
    let mut shipped: Vec<String> = of.in_data(catalog).into_iter().map(str::to_owned).collect();
    shipped.sort();
    shipped.dedup();
    found.extend(shipped);
    found
}

/// What a kind of value speaks of by its own grammar.
fn speaks_of(kind: Kind) -> Option<Named> {
    match kind {
        Kind::Size | Kind::Sum | Kind::Form | Kind::Equation => Some(Named::Dimension),
        Kind::List(inner) | Kind::Row(_, inner) | Kind::Map(inner) => speaks_of(inner()),
        _ => None,
    }
}

/// Tells every name that is given under a table.
fn gather(
    shape: &'static Shape,
    node: Node<'_>,
    steps: &mut Vec<Step>,
    told: &mut dyn FnMut(Named, &str, &[Step]),
) {
    for key in shape.keys {
        let inner = node.get(key.name);
        if matches!(inner, Node::Nothing) {
            continue;
        }
        steps.push(Step::Key(key.name.to_owned()));
        if let (Some(of), Ok(name)) = (key.rule.declares, inner.text("")) {
            told(of, name, steps);
        }
        let kind = (key.kind)();
        if let Some(shape) = table_of(kind) {
            gather(shape, inner, steps, told);
        } else if let Holds::Rows(shape) = super::holds(kind) {
            for at in 0..inner.rows() {
                steps.push(Step::At(at));
                gather(shape, inner.at_row(at), steps, told);
                steps.pop();
            }
        }
        steps.pop();
    }
}
