//! Two texts of one job side by side: what differs, by the table it stands in.

/// Lines that differ, and where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hunk {
    /// The table of the file: `[job]`, or `[[reading]] D3-left`.
    pub place: String,
    /// The lines of the one.
    pub mine: Vec<String>,
    /// The lines of the other.
    pub theirs: Vec<String>,
}

/// Most cells of the table of common lines, four bytes each; beyond it the
/// whole middle is one hunk. Two jobs of 2,000 lines with nothing in common.
const MOST: usize = 4_000_000;

/// What differs between two texts, in their order.
#[must_use]
pub fn beside(mine: &str, theirs: &str) -> Vec<Hunk> {
    let mine: Vec<&str> = mine.lines().collect();
    let theirs: Vec<&str> = theirs.lines().collect();
    let same = |pair: &(&&str, &&str)| pair.0 == pair.1;
    let head = mine.iter().zip(&theirs).take_while(same).count();
    let tail = mine[head..].iter().rev().zip(theirs[head..].iter().rev()).take_while(same).count();
    let (a, b) = (&mine[head..mine.len() - tail], &theirs[head..theirs.len() - tail]);
    let hunk = |(i, many): (usize, usize), (j, more): (usize, usize)| Hunk {
        place: place(&mine, head + i)
            .filter(|_| many > 0)
            .or_else(|| place(&theirs, head + j))
            .unwrap_or_default(),
        mine: owned(&a[i..i + many]),
        theirs: owned(&b[j..j + more]),
    };
    runs(a, b).into_iter().map(|(one, other)| hunk(one, other)).collect()
}

fn owned(lines: &[&str]) -> Vec<String> {
    lines.iter().map(|line| (*line).to_owned()).collect()
}

/// A stretch of lines: the first, and how many.
type Run = (usize, usize);

/// The stretches that differ, by the longest row of common lines.
fn runs(a: &[&str], b: &[&str]) -> Vec<(Run, Run)> {
    if a.is_empty() && b.is_empty() {
        return Vec::new();
    }
    if a.len().saturating_mul(b.len()) > MOST {
        return vec![((0, a.len()), (0, b.len()))];
    }
    let common = common(a, b);
    let mut out = Vec::new();
    let (mut i, mut j) = (0, 0);
    while i < a.len() || j < b.len() {
        let (start, other) = (i, j);
        while (i < a.len() || j < b.len()) && !(i < a.len() && j < b.len() && a[i] == b[j]) {
            let down = if i < a.len() { common[i + 1][j] } else { 0 };
            let right = if j < b.len() { common[i][j + 1] } else { 0 };
            if i < a.len() && (j >= b.len() || down >= right) {
                i += 1;
            } else {
                j += 1;
            }
        }
        if i > start || j > other {
            out.push(((start, i - start), (other, j - other)));
        }
        while i < a.len() && j < b.len() && a[i] == b[j] {
            (i, j) = (i + 1, j + 1);
        }
    }
    out
}

/// `common[i][j]`: how many lines `a[i..]` and `b[j..]` have in common, in
/// their order.
fn common(a: &[&str], b: &[&str]) -> Vec<Vec<u32>> {
    let mut table = vec![vec![0; b.len() + 1]; a.len() + 1];
    for i in (0..a.len()).rev() {
        for j in (0..b.len()).rev() {
            table[i][j] = if a[i] == b[j] {
                table[i + 1][j + 1] + 1
            } else {
                table[i + 1][j].max(table[i][j + 1])
            };
        }
    }
    table
}

/// The table a line stands in, with the name it gives itself.
fn place(lines: &[&str], at: usize) -> Option<String> {
    let at = at.min(lines.len().checked_sub(1)?);
    let is_head = |line: &&&str| line.trim_start().starts_with('[') && !line.contains('=');
    let from = (0..=at).rev().find(|line| is_head(&&lines[*line]))?;
    let inside = lines[from + 1..].iter().take_while(|line| !is_head(line));
    let name = inside.filter_map(|line| line.split_once('=')).find_map(|(key, value)| {
        ["id", "name", "member"].contains(&key.trim()).then(|| value.trim().trim_matches('"'))
    });
    let head = lines[from].trim();
    Some(match name {
        Some(name) if head.starts_with("[[") => format!("{head} {name}"),
        _ => head.to_owned(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const MINE: &str = "[job]\nname = \"Mill\"\nscale = \"1:48\"\n\n[[reading]]\nid = \"R1\"\n\
                        value = \"48 ft\"\n\n[[reading]]\nid = \"R2\"\nvalue = \"30 ft\"\n";

    #[test]
    fn each_difference_says_where_it_stands() {
        let theirs = MINE.replace("1:48", "1:64").replace("30 ft", "31 ft");
        let found = beside(MINE, &theirs);
        let places: Vec<&str> = found.iter().map(|hunk| hunk.place.as_str()).collect();
        assert_eq!(places, ["[job]", "[[reading]] R2"]);
        assert_eq!(found[0].mine, ["scale = \"1:48\""]);
        assert_eq!(found[0].theirs, ["scale = \"1:64\""]);
    }

    #[test]
    fn lines_that_one_has_alone_stand_beside_nothing() {
        let theirs = MINE.replace("value = \"48 ft\"\n", "");
        let found = beside(MINE, &theirs);
        assert_eq!(found.len(), 1);
        assert_eq!((found[0].mine.len(), found[0].theirs.len()), (1, 0));
        assert_eq!(found[0].place, "[[reading]] R1");
        let turned = beside(&theirs, MINE);
        assert_eq!((turned[0].mine.len(), turned[0].theirs.len()), (0, 1));
        assert_eq!(turned[0].place, "[[reading]] R1");
    }

    #[test]
    fn equal_texts_have_no_difference_and_empty_ones_are_no_trouble() {
        assert!(beside(MINE, MINE).is_empty());
        assert!(beside("", "").is_empty());
        assert_eq!(beside("", MINE).len(), 1);
    }

    /// Taking every hunk turns the one text into the other.
    #[test]
    fn the_differences_are_the_whole_difference() {
        let a = ["a", "b", "c", "x", "d", "e", "b"];
        let b = ["b", "c", "y", "z", "d", "b", "q"];
        let (mut at, mut out) = (0, Vec::<&str>::new());
        for ((i, many), (j, more)) in runs(&a, &b) {
            out.extend(&a[at..i]);
            out.extend(&b[j..j + more]);
            at = i + many;
        }
        out.extend(&a[at..]);
        assert_eq!(out, b);
    }
}
