//! What is looked at before an XML parser sees an SVG: things that no drawing needs, and that make a small file large or
//! its reading slow.

use super::{DrawingFault, limits};

/// Finds what would swell a file or keep a parser busy.
pub(super) fn check(text: &str) -> Result<(), DrawingFault> {
    entities(text)?;
    if text.matches("xmlns").count() > limits::NAMESPACES {
        return Err(hostile(format!("the drawing declares more than {} namespaces", limits::NAMESPACES)));
    }
    attributes(text)
}

fn hostile(message: impl Into<String>) -> DrawingFault {
    DrawingFault::new(message, "save it as plain SVG")
}

/// Entities may blow a small file up to any size: only few and short ones are let in.
fn entities(text: &str) -> Result<(), DrawingFault> {
    if !text.contains("<!ENTITY") {
        return Ok(());
    }
    let mut declared = 0;
    for entity in text.split("<!ENTITY").skip(1) {
        let Some(opening) = entity.find(['"', '\'']) else { continue };
        let (head, quoted) = entity.split_at(opening);
        let quote = &quoted[..1];
        let value = quoted[1..].split_once(quote).map_or(&quoted[1..], |(value, _)| value);
        if head.contains("SYSTEM") || head.contains("PUBLIC") {
            return Err(hostile("the drawing declares entities that lie outside it, and nothing outside is read"));
        }
        declared += value.len();
        if declared > limits::ENTITY_BYTES || value.contains(['&', '<', '%']) {
            return Err(hostile("the drawing declares entities that would swell it"));
        }
    }
    let known = ["&lt;", "&gt;", "&amp;", "&quot;", "&apos;", "&#"];
    let used = text.matches('&').count() - known.iter().map(|known| text.matches(known).count()).sum::<usize>();
    if used > limits::ENTITY_BYTES {
        return Err(hostile(format!("the drawing uses entities more than {} times", limits::ENTITY_BYTES)));
    }
    Ok(())
}

/// A parser compares each attribute of an element with all others.
fn attributes(text: &str) -> Result<(), DrawingFault> {
    let mut at = 0;
    while let Some(step) = text[at..].find('<') {
        let rest = &text[at + step..];
        let to = |end: &str| rest.find(end).map(|place| (place + end.len(), 0));
        let tag = match rest {
            _ if rest.starts_with("<!--") => to("-->"),
            _ if rest.starts_with("<![CDATA[") => to("]]>"),
            _ if rest.starts_with("<?") => to("?>"),
            _ => tag(rest),
        };
        // What has no end is told by the parser.
        let Some((end, count)) = tag else { return Ok(()) };
        if count > limits::ATTRIBUTES {
            let line = 1 + text[..at + step].matches('\n').count();
            return Err(hostile(format!("line {line}: an element has more than {} attributes", limits::ATTRIBUTES)));
        }
        at += step + end;
    }
    Ok(())
}

/// Where a tag ends, and how many quoted values it has.
fn tag(text: &str) -> Option<(usize, usize)> {
    let (mut at, mut count) = (0, 0);
    loop {
        let mark = at + text[at..].find(['>', '"', '\''])?;
        let quote = &text[mark..=mark];
        if quote == ">" {
            return Some((mark + 1, count));
        }
        at = mark + 1 + text[mark + 1..].find(quote)? + 1;
        count += 1;
    }
}
