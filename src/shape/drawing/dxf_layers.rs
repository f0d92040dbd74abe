//! Which layers of a DXF are not seen: the reading crate knows those that are off, and not those that are frozen.

use std::collections::BTreeMap;

use super::names::shown;

/// Layers that are not seen, in lower case, each with the word for why (DXF reference, LAYER: group 70 has 1 for frozen,
/// group 62 is negative for off).
pub(super) fn unseen(text: &str) -> BTreeMap<String, &'static str> {
    let mut unseen = BTreeMap::new();
    let mut lines = text.lines().map(str::trim);
    let (mut in_table, mut name, mut why) = (false, "", None);
    while let (Some(code), Some(value)) = (lines.next(), lines.next()) {
        match (code, value) {
            ("0", _) => {
                if let (true, Some(why)) = (in_table, why) {
                    unseen.insert(shown(name).to_lowercase(), why);
                }
                in_table = value == "LAYER";
                (name, why) = ("", None);
            }
            ("2", _) => name = value,
            ("70", flags) if flags.parse::<i32>().is_ok_and(|flags| flags & 1 != 0) => why = Some("frozen"),
            ("62", colour) if colour.starts_with('-') && why.is_none() => why = Some("off"),
            _ => {}
        }
    }
    unseen
}
