//! What wants a look: the result stands.

use super::supply::Budget;
use super::{Lighting, Range, Refused, Strung, Whole, about, wire};
use crate::catalog::lamps::Lamps as Data;
use crate::finding::Finding;
use crate::job::lamps::{LampString, Lamps, Load};
use crate::quantity::{Current, ModelLength};

/// A string or supply that is refused.
pub(super) fn refused(name: &str, why: &Refused) -> Finding {
    Finding::trouble(about(name), format!("{name} is refused: {why}"), why.hint())
}

/// What a string of lamps wants looked at.
pub(super) fn string(
    said: &LampString,
    strung: &Strung,
    at_end: Current,
    range: Range,
    data: &Data,
) -> Vec<Finding> {
    let look = |message: String, hint: &str| Some(Finding::look(about(&said.name), message, hint));
    let name = &said.name;
    let share = data.rule("share");
    let little = (strung.share < share).then(|| {
        look(
            format!(
                "{name}: only {:.0} percent of {} stands across the resistor: at {} it is {} instead of {} ({})",
                strung.share * 100.0,
                range.named,
                range.high,
                strung.high[0],
                strung.current,
                percent(strung.high[0], strung.current),
            ),
            "a lamp less in the string, or a steady supply",
        )
    });
    let run_at = strung.limit * data.rule("of-limit");
    let hard = (strung.high[1] > run_at).then(|| {
        look(
            format!(
                "{name}: {} at the worst, where {} is {:.0} percent of what the lamp stands",
                strung.high[1],
                run_at,
                data.rule("of-limit") * 100.0
            ),
            "less current, or the next resistor up",
        )
    });
    let dark = (strung.low[1].in_amperes() <= 0.0).then(|| {
        look(
            format!("{name}: goes dark when the supply sags to {}", range.low),
            "a lamp less in the string",
        )
    });
    let bright = (strung.current > Current::amperes(data.rule("bright"))).then(|| {
        look(
            format!("{name}: {} is very bright for the inside of a building", strung.current),
            "1 to 5 mA is enough; 20 mA looks like a welding shop",
        )
    });
    let over = (strung.picked && strung.current > strung.wanted * 1.2).then(|| {
        look(
            format!(
                "{name}: {} gives {}, more than the {} wanted",
                strung.resistor, strung.current, strung.wanted
            ),
            "the next value up",
        )
    });
    let dim = (at_end < strung.current * (1.0 - 2.0 * data.rule("drop"))).then(|| {
        look(
            format!("{name}: with the wire it has {at_end} instead of {}", strung.current),
            "thicker wire, or a shorter run",
        )
    });
    let thin = thin(said, strung.current * f64::from(strung.branches), data);
    [little, hard, dark, bright, over, dim, thin.map(|(text, hint)| look(text, hint))]
        .into_iter()
        .flatten()
        .flatten()
        .collect()
}

fn thin(said: &LampString, drawn: Current, data: &Data) -> Option<(String, &'static str)> {
    let gauge = said.gauge?;
    let most = wire::carries(gauge, data.rule("mils-per-ampere"));
    let text = format!("{}: {drawn} in wire of gauge {gauge}, which carries {most}", said.name);
    (drawn > most).then_some((text, "thicker wire"))
}

fn percent(now: Current, before: Current) -> String {
    format!("{:+.0} percent", (now / before - 1.0) * 100.0)
}

/// What fixed loads want looked at.
pub(super) fn loads(loads: &[&Load], range: Range) -> Vec<Finding> {
    let mut found = Vec::new();
    for load in loads {
        let mut look = |message: String, hint: &str| {
            found.push(Finding::look(about(&load.name), message, hint));
        };
        if let Some(least) = load.least.filter(|least| *least > range.low) {
            let low = range.low;
            look(format!("{} wants {least}, and the supply sags to {low}", load.name), "");
        }
        if let Some(most) = load.most.filter(|most| *most < range.high) {
            let high = range.high;
            look(
                format!("{} stands {most}, and the supply rises to {high}", load.name),
                "a lower or a steady supply",
            );
        }
        if load.hot {
            look(format!("{} runs hot", load.name), "1/2 in from card and roof at the least");
        }
    }
    found
}

/// What a supply wants looked at.
pub(super) fn supply(whole: &Whole<'_>, budget: &Budget, data: &Data) -> Vec<Finding> {
    let (supply, name) = (whole.supply, &whole.supply.name);
    let look = |message: String, hint: &str| Finding::look(about(name), message, hint);
    let mut found = Vec::new();
    if !budget.holds() {
        let most = if budget.highest > budget.wanted { budget.highest } else { budget.wanted };
        found.push(look(
            format!(
                "{name} is made for {}; its lamps draw {}, and with a reserve it should be {most}",
                budget.made_for, budget.drawn
            ),
            "a larger supply, or fewer branches on it",
        ));
    }
    let lost = budget.range.named - budget.arrives;
    if lost > budget.range.named * data.rule("drop") {
        found.push(look(
            format!("{lost} of {} are lost in the wire from {name}", budget.range.named),
            "thicker wire, or the supply nearer: far lamps are dim",
        ));
    }
    let open = supply.fuse.is_none() && !supply.limited;
    if open && supply.amperes.in_amperes() > data.rule("fuse-above") {
        found.push(look(
            format!("{name} can give {} into a fault, with no fuse", supply.amperes),
            "a fuse behind it, or a supply that limits its current; card and wood burn",
        ));
    }
    if let Some(fuse) = supply.fuse.filter(|fuse| *fuse < budget.highest) {
        let highest = budget.highest;
        found.push(look(
            format!("the fuse of {name} is {fuse}, and its lamps draw up to {highest}"),
            "the next fuse up, if the wire carries it",
        ));
    }
    found.extend(fault(whole, data));
    found
}

/// Wire that burns before the fuse does.
fn fault(whole: &Whole<'_>, data: &Data) -> Option<Finding> {
    let supply = whole.supply;
    let gauges = whole.strings.iter().filter_map(|string| string.gauge).chain(supply.gauge);
    let thinnest = gauges.max()?;
    let carries = wire::carries(thinnest, data.rule("mils-per-ampere"));
    let fault = supply.fuse.unwrap_or(supply.amperes);
    (fault > carries && !supply.limited).then(|| {
        Finding::look(
            about(&supply.name),
            format!(
                "a fault can draw {fault} from {} through wire of gauge {thinnest}, which carries {carries}",
                supply.name
            ),
            "a smaller fuse, or thicker wire",
        )
    })
}

/// Wires of a roof that lifts off.
pub(super) fn plug(said: &Lamps, lighting: &Lighting) -> Option<Finding> {
    let slack = said.slack.as_ref().map_or(ModelLength::ZERO, |slack| slack.length());
    let short = slack < ModelLength::inches(2.999);
    (lighting.contacts > 0 && !said.plug && short).then(|| {
        Finding::look(
            about("roof"),
            format!(
                "lamps hang on the roof: to lift it, it needs a plug of {} contacts or 3 in of slack",
                lighting.contacts
            ),
            "write plug = true or slack = \"3 in\" under [lamps]",
        )
    })
}
