//! What wants a look: the result stands.

use super::resistor::{nearest, next_up};
use super::supply::Budget;
use super::{Lighting, Range, Refused, Strung, Whole, about, wire};
use crate::catalog::lamps::{Lamps as Data, Series};
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
    let hard = (strung.worst > run_at).then(|| {
        look(
            format!(
                "{name}: {} at the worst, where {} is {:.0} percent of what the lamp stands",
                strung.worst,
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
    let dim = (at_end < strung.current * (1.0 - 2.0 * data.rule("drop"))).then(|| {
        look(
            format!("{name}: with the wire it has {at_end} instead of {}", strung.current),
            "thicker wire, or a shorter run",
        )
    });
    let thin = thin(said, strung.current * f64::from(strung.branches), data);
    [little, hard, dark, bright, dim, thin.map(|(text, hint)| look(text, hint))]
        .into_iter()
        .flatten()
        .flatten()
        .collect()
}

/// A resistor that is not what the plan would take: picked by hand, or larger
/// so that the lamps stand the worst.
pub(super) fn picked(
    said: &LampString,
    strung: &Strung,
    data: &Data,
    series: &Series,
) -> Option<Finding> {
    let planned = next_up(series, strung.exact)?;
    let name = &said.name;
    let (message, hint) = if !strung.picked {
        (strung.resistor > planned * 1.001).then(|| {
            let message = format!(
                "{name}: {} instead of {planned}, so that the lamps stand the worst; {} instead of the {} wanted",
                strung.resistor, strung.current, strung.wanted
            );
            (message, "a steady supply, or a resistor of closer tolerance, allows more")
        })?
    } else if (nearest(series, strung.resistor)? / strung.resistor - 1.0).abs() > 1e-6 {
        let message = format!(
            "{name}: {} was picked, and the series {} has no such value; the plan would take {planned}",
            strung.resistor, series.key
        );
        (message, "see what it measures, or strike it")
    } else {
        let off = data.rule("picked-off");
        let far = strung.current > strung.wanted * (1.0 + off)
            || strung.current < strung.wanted * (1.0 - off);
        far.then(|| {
            let more = if strung.current > strung.wanted { "more" } else { "less" };
            let message = format!(
                "{name}: {} was picked and gives {}, {more} than the {} wanted; the plan would take {planned}",
                strung.resistor, strung.current, strung.wanted
            );
            (message, "strike it, or change the current wanted")
        })?
    };
    Some(Finding::look(about(name), message, hint))
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
        if load.hot {
            look(format!("{} runs hot", load.name), "1/2 in from card and roof at the least");
        }
        let high = range.high;
        if let Some(stands) = load.most.filter(|most| *most < high) {
            found.push(refused(&load.name, &Refused::LoadOver { stands, high }));
        }
        if load.current.in_amperes() <= 0.0 {
            found.push(refused(&load.name, &Refused::NotAboveZero("what it draws")));
        }
    }
    found
}

/// What a supply wants looked at.
pub(super) fn supply(
    whole: &Whole<'_>,
    budget: &Budget,
    data: &Data,
    some_refused: bool,
) -> Vec<Finding> {
    let (supply, name) = (whole.supply, &whole.supply.name);
    let look = |message: String, hint: &str| Finding::look(about(name), message, hint);
    let mut found = Vec::new();
    if budget.is_overdrawn() {
        found.push(Finding::trouble(
            about(name),
            format!(
                "{name} is refused: it is made for {}, and with everything at its worst {} are drawn",
                budget.made_for, budget.worst
            ),
            "a larger supply, or fewer branches on it",
        ));
    } else if !budget.holds() {
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
    let fault = fault(whole, data);
    let open = supply.fuse.is_none() && !supply.limited;
    if open && supply.amperes.in_amperes() > data.rule("fuse-above") {
        found.push(look(
            format!("{name} can give {} into a fault, with no fuse", supply.amperes),
            "a fuse behind it, or a supply that limits its current; card and wood burn",
        ));
    }
    if let Some(fuse) = supply.fuse.filter(|fuse| *fuse < budget.highest) {
        let highest = budget.highest;
        // A fuse that blows may be the only thing that tells of a fault.
        let hint = if some_refused || budget.is_overdrawn() || fault.is_some() {
            "first clear what is refused or too thin; a larger fuse would feed the fault"
        } else {
            "look for a fault first; then a larger fuse, no larger than the wire carries"
        };
        found.push(look(
            format!("the fuse of {name} is {fuse}, and its lamps draw up to {highest}"),
            hint,
        ));
    }
    found.extend(fault);
    found
}

/// Wire that burns before the fuse does.
fn fault(whole: &Whole<'_>, data: &Data) -> Option<Finding> {
    let supply = whole.supply;
    let gauges = whole.strings.iter().filter_map(|string| string.gauge).chain(supply.gauge);
    let thinnest = gauges.max()?;
    let carries = wire::carries(thinnest, data.rule("mils-per-ampere"));
    let fault = super::supply::fault(supply, data);
    (fault > carries).then(|| {
        Finding::look(
            about(&supply.name),
            format!(
                "a fault can draw {fault} from {} through wire of gauge {thinnest}, which carries {carries}",
                supply.name
            ),
            "a smaller fuse at the supply, or thicker wire",
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
