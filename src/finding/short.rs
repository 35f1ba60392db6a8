//! Words that come from the person's files, cut to what fits a message.

/// Most characters of a word that is told back.
const WORD: usize = 60;
/// Most characters of a message.
const MESSAGE: usize = 290;

/// A word from a file, shortened where it is long.
#[must_use]
pub fn word(text: &str) -> String {
    cut(text, WORD)
}

/// The first `most` characters, and a sign that there are more.
#[must_use]
pub fn cut(text: &str, most: usize) -> String {
    match text.char_indices().nth(most) {
        Some((at, _)) => format!("{}...", &text[..at]),
        None => text.to_owned(),
    }
}

/// A message with every long word and every line of it shortened.
#[must_use]
pub fn message(text: &str) -> String {
    if text.len() <= WORD {
        return text.to_owned();
    }
    let lines: Vec<String> = text.split('\n').map(line).collect();
    lines.join("\n")
}

fn line(text: &str) -> String {
    // A word that was cut before has its sign and its quotes behind it.
    let is_long = |word: &str| word.chars().count() > WORD + 10;
    if !text.split(' ').any(is_long) {
        return cut(text, MESSAGE);
    }
    let words = text.split(' ').map(|one| if is_long(one) { word(one) } else { one.to_owned() });
    cut(&words.collect::<Vec<_>>().join(" "), MESSAGE)
}

/// Names behind one another, as many as fit a message beside other words.
#[must_use]
pub fn list<'a>(names: impl IntoIterator<Item = &'a str>) -> String {
    let mut out = String::new();
    let mut left = 0;
    for name in names {
        let room = out.chars().count() + name.chars().count() <= MESSAGE - 110;
        match (left, room || out.is_empty()) {
            (0, true) if out.is_empty() => out.push_str(&word(name)),
            (0, true) => out = format!("{out}, {name}"),
            _ => left += 1,
        }
    }
    if left == 0 { out } else { format!("{out} and {left} more") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_words_and_messages_are_cut_and_lists_say_how_many_are_left() {
        let long = format!("the name {} stands twice", "x".repeat(5_000));
        assert!(message(&long).chars().count() < 100);
        assert!(message(&"word ".repeat(500)).chars().count() < 300);
        assert_eq!(list(["a", "b"]), "a, b");
        let names = vec!["dimension_of_the_front"; 100];
        let told = list(names);
        assert!(told.chars().count() < 200 && told.ends_with("more"), "{told}");
    }
}
