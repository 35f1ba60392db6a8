//! What a sum comes to, in words and figures.

use super::{Value, World};
use crate::bench::answer::{Answer, Drawn, Figure, exactly, plain, read};
use crate::bench::desk::Desk;
use crate::quantity::{Exact, Model, Prototype, PrototypeLength, Rational, Unit};

/// The answer in words.
pub(super) fn told(text: &str, value: Value, sigma: Option<f64>, desk: &Desk<'_>) -> Answer {
    let answer = Answer::new("sum", text);
    let answer = match (value.power, value.world) {
        (1, Some(world)) => length(answer, value.amount, sigma, world, desk),
        (2, Some(world)) => area(answer, value.amount, sigma, world, desk),
        (0, _) => {
            let number = value.amount.value();
            let answer = answer
                .says(format!("{text} is {}{}.", plain(number), fraction(value.amount)))
                .number("number", number, "");
            with_sigma(answer, sigma, "")
        }
        _ => {
            let number = value.amount.value();
            answer.says(format!("{text} is {} in^{}.", plain(number), value.power)).number(
                "inches to a power",
                number,
                "",
            )
        }
    };
    answer.by(
        "times and over before plus and minus; exact fractions throughout; two spaces never add",
        "arithmetic; uncertainties by JCGM 100:2008 equation 10, from memory",
        "12 ft 6 - 2 * 7 1/2 in = 150 in - 15 in = 135 in = 11'-3\"",
    )
}

fn fraction(amount: Rational) -> String {
    match amount.denominator() {
        1 => String::new(),
        below if below <= 1_000_000 => format!(", exactly {amount}"),
        _ => String::new(),
    }
}

fn with_sigma(answer: Answer, sigma: Option<f64>, unit: &'static str) -> Answer {
    match sigma {
        Some(sigma) => answer.number("\u{b1} 1 sigma", sigma, unit),
        None => answer,
    }
}

fn length(
    answer: Answer,
    inches: Rational,
    sigma: Option<f64>,
    world: World,
    desk: &Desk<'_>,
) -> Answer {
    let text = answer.title.clone();
    let scale = &desk.scale;
    let spread = sigma.map_or(String::new(), |s| format!(" \u{b1} {} in", plain(s)));
    let (full, model) = match world {
        World::Full => {
            let full: PrototypeLength = Exact::<Prototype>::inches(inches).length();
            (full, scale.reduce(full))
        }
        World::Model => {
            let model = Exact::<Model>::inches(inches).length();
            (scale.enlarge(model), model)
        }
    };
    let exact = Figure {
        text: format!("{inches} in"),
        decimal: format!("{} mm", plain(full_mm(inches))),
        ..Figure::number("exactly", inches.value(), "in")
    };
    let other = desk.to.as_ref().map(|to| {
        let name = format!("at {to}");
        Figure::model(name, to.reduce(full), desk.look)
    });
    let lead = match world {
        World::Full => format!(
            "{text} is {}{spread}; on the model at {scale} {}.",
            exactly(inches),
            read(model, desk.look)
        ),
        World::Model => format!(
            "{text} is {}{spread} on the model; full size at {scale} {}.",
            read(model, desk.look),
            desk.look.full.show(&full)
        ),
    };
    let mut answer = answer
        .says(lead)
        .figure(exact)
        .figure(Figure::full("full size", full, (scale, desk.look)))
        .figure(Figure::model("on the model", model, desk.look))
        .drawn(Drawn::Rule(model));
    answer.figures.extend(other);
    with_sigma(answer, sigma, "in")
}

fn full_mm(inches: Rational) -> f64 {
    Unit::Millimetre.from_inches(inches).map_or(inches.value() * 25.4, Rational::value)
}

fn area(
    answer: Answer,
    square: Rational,
    sigma: Option<f64>,
    world: World,
    desk: &Desk<'_>,
) -> Answer {
    let text = answer.title.clone();
    let inches = square.value();
    let ratio = desk.scale.ratio.value();
    let (full, model) = match world {
        World::Full => (inches, inches / (ratio * ratio)),
        World::Model => (inches * ratio * ratio, inches),
    };
    let spread = sigma.map_or(String::new(), |s| format!(" \u{b1} {} sq ft", plain(s / 144.0)));
    let answer = answer
        .says(format!(
            "{text} is {} sq ft{spread} full size, {} sq in on the model at {}.",
            plain(full / 144.0),
            plain(model),
            desk.scale
        ))
        .number("full size", full / 144.0, "sq ft")
        .number("full size, metric", full * 0.0254 * 0.0254, "sq m")
        .number("on the model", model, "sq in")
        .number("on the model, metric", model * 6.4516, "sq cm");
    with_sigma(answer, sigma.map(|s| s / 144.0), "sq ft")
}
