//! File names that every system takes.

use std::collections::BTreeSet;

/// Longest name of a cloth in a file name, in characters.
const LONGEST: usize = 60;

/// The name of the sheet of each cloth: `lay-NAME.svg`, with `-2` for the second cloth of that name, and no two alike
/// even where only upper and lower case differ.
pub fn sheet_names<'a>(cloths: impl IntoIterator<Item = (&'a str, u32)>) -> Vec<String> {
    let mut taken = BTreeSet::new();
    let mut names = Vec::new();
    for (name, number) in cloths {
        let copy = if number > 1 { format!("-{number}") } else { String::new() };
        let base = format!("lay-{}{copy}", safe(name));
        let mut candidate = base.clone();
        let mut again = 2;
        while !taken.insert(candidate.to_lowercase()) {
            candidate = format!("{base}.{again}");
            again += 1;
        }
        names.push(format!("{candidate}.svg"));
    }
    names
}

/// Letters and digits stay, everything else becomes a hyphen.
fn safe(name: &str) -> String {
    let mut safe = String::new();
    for letter in name.chars().take(LONGEST) {
        if letter.is_alphanumeric() || letter == '_' {
            safe.push(letter);
        } else if !safe.ends_with('-') {
            safe.push('-');
        }
    }
    let trimmed = safe.trim_matches('-');
    if trimmed.is_empty() { "cloth".to_owned() } else { trimmed.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_safe_and_no_two_are_alike() {
        let names = sheet_names([("roll", 1), ("roll", 2), ("Roll", 1), ("../a b\\c", 1), ("***", 1)]);
        assert_eq!(names, ["lay-roll.svg", "lay-roll-2.svg", "lay-Roll.2.svg", "lay-a-b-c.svg", "lay-cloth.svg"]);
    }
}
