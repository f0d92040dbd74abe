//! File names that every system takes.

use std::collections::BTreeSet;

/// Longest name of a cloth or a part in a file name, in characters.
const LONGEST: usize = 60;

/// The name of the sheet of each cloth: `lay-NAME.svg`, with `-2` for the second cloth of that name, and no two alike
/// even where only upper and lower case differ.
pub fn sheet_names<'a>(cloths: impl IntoIterator<Item = (&'a str, u32)>) -> Vec<String> {
    cloth_files("lay", cloths, "svg")
}

/// The name of the mark-out of each cloth: `mark-out-NAME.pdf` or with another extension, with numbers as in
/// [`sheet_names`].
pub fn mark_out_names<'a>(cloths: impl IntoIterator<Item = (&'a str, u32)>, extension: &str) -> Vec<String> {
    cloth_files("mark-out", cloths, extension)
}

fn cloth_files<'a>(start: &str, cloths: impl IntoIterator<Item = (&'a str, u32)>, extension: &str) -> Vec<String> {
    let copy = |number: u32| if number > 1 { format!("-{number}") } else { String::new() };
    let base = |(name, number): (&str, u32)| format!("{start}-{}{}", safe(name, "cloth"), copy(number));
    unlike(cloths.into_iter().map(base), extension)
}

/// The name of the drawing of each part: `part-NAME.svg`, no two alike even where only upper and lower case differ.
pub fn part_sheet_names<'a>(parts: impl IntoIterator<Item = &'a str>) -> Vec<String> {
    unlike(parts.into_iter().map(|name| format!("part-{}", safe(name, "part"))), "svg")
}

/// The names of the sheets of each part's map, by how many there are: `map-NAME.svg`, then `map-NAME-2.svg` and so on, no
/// two alike even where only upper and lower case differ.
pub fn map_sheet_names<'a>(parts: impl IntoIterator<Item = (&'a str, usize)>) -> Vec<String> {
    let base = |name: &str, sheet: usize| match sheet {
        1 => format!("map-{}", safe(name, "part")),
        _ => format!("map-{}-{sheet}", safe(name, "part")),
    };
    let sheets = parts.into_iter().flat_map(|(name, count)| (1..=count).map(move |sheet| base(name, sheet)));
    unlike(sheets, "svg")
}

/// The name of the drawing of each kind of tape: `tapes-KIND.svg`, no two alike.
pub fn tape_sheet_names<'a>(kinds: impl IntoIterator<Item = &'a str>) -> Vec<String> {
    unlike(kinds.into_iter().map(|name| format!("tapes-{}", safe(name, "tape"))), "svg")
}

/// The name of the file of each template: `template-NAME.svg` or with another extension, no two alike even where only
/// upper and lower case differ.
pub fn template_file_names<'a>(templates: impl IntoIterator<Item = &'a str>, extension: &str) -> Vec<String> {
    unlike(templates.into_iter().map(|name| format!("template-{}", safe(name, "piece"))), extension)
}

/// File names of drawings, each with a number after it where one before it is the same.
fn unlike(bases: impl Iterator<Item = String>, extension: &str) -> Vec<String> {
    let mut taken = BTreeSet::new();
    let mut names = Vec::new();
    for base in bases {
        let mut candidate = base.clone();
        let mut again = 2;
        while !taken.insert(candidate.to_lowercase()) {
            candidate = format!("{base}.{again}");
            again += 1;
        }
        names.push(format!("{candidate}.{extension}"));
    }
    names
}

/// Letters and digits stay, everything else becomes a hyphen; a name that has none of them is called something else.
fn safe(name: &str, without: &str) -> String {
    let mut safe = String::new();
    for letter in name.chars().take(LONGEST) {
        if letter.is_alphanumeric() || letter == '_' {
            safe.push(letter);
        } else if !safe.ends_with('-') {
            safe.push('-');
        }
    }
    let trimmed = safe.trim_matches('-');
    if trimmed.is_empty() { without.to_owned() } else { trimmed.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_safe_and_no_two_are_alike() {
        let names = sheet_names([("roll", 1), ("roll", 2), ("Roll", 1), ("../a b\\c", 1), ("***", 1)]);
        assert_eq!(names, ["lay-roll.svg", "lay-roll-2.svg", "lay-Roll.2.svg", "lay-a-b-c.svg", "lay-cloth.svg"]);
        assert_eq!(
            map_sheet_names([("wing", 2), ("wing 2", 1)]),
            ["map-wing.svg", "map-wing-2.svg", "map-wing-2.2.svg"]
        );
        assert_eq!(
            part_sheet_names(["rudder", "Rudder", "?"]),
            ["part-rudder.svg", "part-Rudder.2.svg", "part-part.svg"]
        );
    }
}
