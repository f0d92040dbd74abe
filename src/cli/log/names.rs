//! Names as people type them in a hurry, and the things that they mean.

use crate::cli::exit::{Exit, Stop};
use crate::job::nearest;

/// The thing that is meant: by its name, whatever the capitals; or by a part of it that no other has.
pub(super) fn meant<'n>(kind: &str, typed: &str, names: &[&'n str]) -> Result<&'n str, Stop> {
    let plain = |text: &str| text.trim().to_lowercase();
    let wanted = plain(typed);
    if let Some(name) = names.iter().find(|name| **name == typed).or_else(|| names.iter().find(|n| plain(n) == wanted))
    {
        return Ok(name);
    }
    // “first rudder” is as good as “rudder, first side”: every word must be there.
    let words: Vec<&str> = wanted.split([' ', ',']).filter(|word| !word.is_empty()).collect();
    let has_words = |name: &&&str| !words.is_empty() && words.iter().all(|word| plain(name).contains(word));
    let fitting: Vec<&str> = names.iter().filter(has_words).copied().collect();
    match fitting.as_slice() {
        [only] => Ok(only),
        [] => Err(unknown(kind, typed, names)),
        several => Err(wrong(format!("“{typed}” may be {}; say more of it", listed(several)))),
    }
}

fn unknown(kind: &str, typed: &str, names: &[&str]) -> Stop {
    let advice = match nearest(typed, names.iter().copied()) {
        Some(near) => format!("did you mean “{near}”?"),
        None if names.is_empty() => format!("there is no {kind} yet"),
        None if names.len() == 1 => format!("there is only {}", listed(names)),
        None => format!("there are {}", listed(names)),
    };
    wrong(format!("there is no {kind} “{typed}”; {advice}"))
}

/// Names in quotes, the first few of many.
pub(super) fn listed(names: &[&str]) -> String {
    const MOST: usize = 8;
    let shown: Vec<String> = names.iter().take(MOST).map(|name| format!("“{name}”")).collect();
    let more = names.len().saturating_sub(MOST);
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    format!("{}{more}", shown.join(", "))
}

/// Something that was typed is wrong; nothing has been recorded.
pub(super) fn wrong(message: impl std::fmt::Display) -> Stop {
    Stop::fault(Exit::CommandWrong, format!("nothing was recorded: {message}"))
}
