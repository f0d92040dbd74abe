//! Which templates are wanted.

use thiserror::Error;

use super::Template;
use crate::job::nearest;

/// Which templates are wanted; all of them where nothing is asked for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TemplateChoice {
    /// Names of pieces.
    pub only: Vec<String>,
    /// Names of parts.
    pub parts: Vec<String>,
}

/// What cannot be chosen.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum TemplateFault {
    /// There is no piece of that name.
    #[error("the job has no piece named “{name}”{}", hint(.nearest, "its pieces are listed by `clothwright pieces`"))]
    UnknownPiece {
        /// The name that was asked for.
        name: String,
        /// A name that is there and looks like it.
        nearest: Option<String>,
    },
    /// There is no part of that name that is covered.
    #[error("no part named “{name}” is covered{}", hint(.nearest, "parts are named in the \"airframe\" of the job"))]
    UnknownPart {
        /// The name that was asked for.
        name: String,
        /// A name that is there and looks like it.
        nearest: Option<String>,
    },
    /// There is nothing to make a template of.
    #[error("the job has no pieces to make templates of")]
    Nothing,
}

fn hint(nearest: &Option<String>, otherwise: &str) -> String {
    match nearest {
        Some(name) => format!("; did you mean “{name}”?"),
        None => format!("; {otherwise}"),
    }
}

impl TemplateChoice {
    /// Whether anything in particular is asked for.
    pub fn is_of_some(&self) -> bool {
        !(self.only.is_empty() && self.parts.is_empty())
    }

    /// The templates that are wanted, before pieces of one shape share one.
    pub(super) fn choose(&self, templates: Vec<Template>) -> Result<Vec<Template>, TemplateFault> {
        let names: Vec<&str> = templates.iter().map(Template::name).collect();
        for name in &self.only {
            if !names.contains(&name.as_str()) {
                return Err(TemplateFault::UnknownPiece { name: name.clone(), nearest: alike(name, &names) });
            }
        }
        let parts: Vec<&str> = templates.iter().filter_map(part).collect();
        for name in &self.parts {
            if !parts.contains(&name.as_str()) {
                return Err(TemplateFault::UnknownPart { name: name.clone(), nearest: alike(name, &parts) });
            }
        }
        let wanted = |template: &Template| {
            !self.is_of_some()
                || self.only.iter().any(|name| name == template.name())
                || part(template).is_some_and(|part| self.parts.iter().any(|name| name == part))
        };
        let chosen: Vec<Template> = templates.into_iter().filter(wanted).collect();
        if chosen.is_empty() { Err(TemplateFault::Nothing) } else { Ok(chosen) }
    }
}

fn part(template: &Template) -> Option<&str> {
    template.uses.first().and_then(|first| first.part.as_deref())
}

fn alike(name: &str, names: &[&str]) -> Option<String> {
    nearest(name, names.iter().copied()).map(str::to_owned)
}
