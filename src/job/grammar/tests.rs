use super::*;

/// Every key says what it is, has an example that reads, and a range where it
/// is a number.
#[test]
fn every_key_has_sentence_range_and_example() {
    let found = tables();
    assert!(found.len() > 40, "{}", found.len());
    for table in found {
        let shape = table.shape;
        assert!(shape.says().ends_with('.'), "{}", shape.head.name);
        for key in shape.keys {
            let place = format!("{}.{}", shape.head.name, key.name);
            assert!(key.says().ends_with('.'), "{place}: {}", key.says);
            let is_table = matches!((key.kind)(), Kind::Table(_));
            if (is_table || shape.head.name == "file") && key.rule.example.is_empty() {
                continue;
            }
            let example = key.example();
            key.check(&example)
                .unwrap_or_else(|wrong| panic!("{place} = {example}: {}", wrong.message));
            if key.is_measure() {
                assert!(
                    key.rule.least.is_some() && key.rule.most.is_some(),
                    "{place} has no range"
                );
            }
        }
    }
}

/// A value past either end of the range is refused, in few words.
#[test]
fn what_lies_outside_the_range_is_refused() {
    for table in tables() {
        for key in table.shape.keys.iter().filter(|key| key.is_measure()) {
            for text in outside(key) {
                let place = format!("{}.{} = {text}", table.shape.head.name, key.name);
                let wrong = key.check(&text).expect_err(&place);
                assert!(wrong.message.chars().count() < 300, "{place}: {}", wrong.message);
            }
        }
    }
}

/// Values just past both ends of a key's range, as they stand in a file.
fn outside(key: &Key) -> Vec<String> {
    let past = |end: Option<Bound>, by: f64| match end {
        Some(Bound::At(end)) => Some(end + by),
        Some(Bound::Past(end)) => Some(end),
        None => None,
    };
    let step = if matches!((key.kind)(), Kind::Number) { 1e-3 } else { 1.0 };
    let ends = [past(key.rule.least, -step), past(key.rule.most, step)];
    let written = |end: f64| {
        Some(match (key.kind)() {
            Kind::Length(_) | Kind::Size => format!("\"{end} in\""),
            Kind::Count => format!("{end:.0}"),
            Kind::Number => format!("{end:?}"),
            Kind::Electric("voltage") => format!("\"{end} V\""),
            Kind::Electric("current") => format!("\"{end} A\""),
            Kind::Text if key.rule.text == Text::Angle => format!("\"{end} deg\""),
            _ => return None,
        })
    };
    ends.into_iter().flatten().filter_map(written).collect()
}
