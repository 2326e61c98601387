//! The glossary that ligule brings along: one row a file of `glossary/`.

use std::sync::{Arc, OnceLock};

use crate::terms::layer::Layer;
use crate::terms::{Origin, file};

macro_rules! glossary {
    ($($name:literal)*) => {
        &[$(($name, include_str!(concat!("../../glossary/", $name)))),*]
    };
}

/// Every file of `glossary/` with its contents, in alphabetical order.
const FILES: &[(&str, &str)] = glossary! {
    "abbreviations.toml"
    "buds-bark.toml"
    "colour.toml"
    "composites.toml"
    "ferns.toml"
    "flower-form.toml"
    "flower-parts.toml"
    "fruit.toml"
    "grasses-sedges.toml"
    "habit.toml"
    "habitat.toml"
    "inflorescence.toml"
    "leaf-apex-base.toml"
    "leaf-arrangement.toml"
    "leaf-division.toml"
    "leaf-margin.toml"
    "leaf-parts.toml"
    "leaf-shape.toml"
    "mosses.toml"
    "parts-in-full.toml"
    "season-status.toml"
    "seed.toml"
    "stamens-pistil.toml"
    "stems.toml"
    "surface.toml"
    "underground.toml"
    "venation.toml"
};

/// Returns the built-in entries; they are read once.
pub(crate) fn layer() -> Arc<Layer> {
    static LAYER: OnceLock<Arc<Layer>> = OnceLock::new();
    Arc::clone(LAYER.get_or_init(|| Arc::new(read())))
}

/// Returns the file of `glossary/` that has an entry with this folded headword or form.
pub(crate) fn topic(key: &str) -> Option<&'static str> {
    static FIRSTS: OnceLock<Vec<(u32, &'static str)>> = OnceLock::new();
    let firsts = FIRSTS.get_or_init(|| {
        let mut next = 0;
        let first = |(name, text): &(&'static str, &str)| {
            let first = next;
            next += text.lines().filter(|line| *line == "[[term]]").count() as u32;
            (first, *name)
        };
        FILES.iter().map(first).collect()
    });
    let at = *layer().listed(key).first()?;
    let after = firsts.partition_point(|(first, _)| *first <= at);
    Some(firsts[after.checked_sub(1)?].1)
}

fn read() -> Layer {
    let entries = |(name, text): &(&str, &str)| {
        file::read(name, text, &Origin::BuiltIn).expect("a test reads every file of the table")
    };
    Layer::new(FILES.iter().flat_map(entries).collect())
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::*;
    use crate::terms::form::{Kin, fold};
    use crate::terms::{Lexicon, Term, plain};

    fn terms() -> Vec<Term> {
        let read = |(name, text): &(&str, &str)| {
            file::read(name, text, &Origin::BuiltIn).map_err(|error| error.to_string())
        };
        let all: Result<Vec<Vec<Term>>, String> = FILES.iter().map(read).collect();
        all.expect("every file parses").concat()
    }

    #[test]
    fn every_file_of_the_glossary_is_listed() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("glossary");
        let mut names: Vec<String> = folder
            .read_dir()
            .expect("the folder is part of the project")
            .map(|entry| entry.expect("the folder can be read").file_name().to_string_lossy().into_owned())
            .filter(|name| Path::new(name).extension().is_some_and(|ending| ending == "toml"))
            .collect();
        names.sort();
        assert_eq!(names, FILES.iter().map(|(name, _)| *name).collect::<Vec<_>>());
    }

    #[test]
    fn contrasts_broader_terms_and_senders_lead_somewhere() {
        let lexicon = Lexicon::built_in();
        let mut lost = Vec::new();
        for term in terms() {
            let senses = term.senses.iter().flat_map(|sense| sense.contrasts.iter().chain(&sense.broader));
            let named = senses.chain(&term.see).filter(|named| lexicon.look_up(named).is_empty());
            lost.extend(named.map(|named| format!("{} -> {named}", term.name)));
            lost.extend(term.see.iter().filter(|see| lexicon.by_name(see).is_none()).cloned());
        }
        assert_eq!(lost, Vec::<String>::new());
    }

    #[test]
    fn the_quick_reader_reads_every_file_as_the_toml_crate_does() {
        for (name, text) in FILES {
            let quick = plain::read(text, &Origin::BuiltIn).unwrap_or_else(|| panic!("{name} is not plain"));
            assert_eq!(quick, file::read_toml(name, text, &Origin::BuiltIn).expect("it parses"), "{name}");
        }
    }

    #[test]
    fn no_headword_stands_twice() {
        let mut names: Vec<String> = terms().iter().map(|term| fold(&term.name).into_owned()).collect();
        names.sort();
        let twice: Vec<&str> =
            names.windows(2).filter(|pair| pair[0] == pair[1]).map(|pair| &*pair[0]).collect();
        assert_eq!(twice, Vec::<&str>::new());
    }

    #[test]
    fn a_headword_is_no_form_of_another_by_rule() {
        let layer = read();
        let mut taken = Vec::new();
        for (at, term) in layer.terms().iter().enumerate() {
            let others =
                layer.find(&fold(&term.name), Kin::Same).into_iter().filter(|other| *other as usize != at);
            taken.extend(
                others.map(|other| format!("{} of {}", term.name, layer.terms()[other as usize].name)),
            );
        }
        assert_eq!(taken, Vec::<String>::new());
    }
}
