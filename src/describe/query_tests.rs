//! Questions and how they are read.

use crate::describe::query::{Asked, Part, Words, asked};
use crate::describe::tests::shown;
use crate::describe::{Concepts, Thesaurus, What};
use crate::terms::Lexicon;

struct Isles;

impl Words for Isles {
    fn district(&self, words: &str) -> Option<String> {
        ["Vane", "North Skerry"].into_iter().find(|name| name.eq_ignore_ascii_case(words)).map(str::to_owned)
    }

    fn is_name(&self, words: &str) -> bool {
        ["silene alta", "silene", "skerry campion"].contains(&words.to_lowercase().as_str())
    }

    fn is_nearly_name(&self, words: &str) -> bool {
        ["silen", "skerry campi", "campion"].contains(&words.to_lowercase().as_str())
    }

    fn says(&self, state: &str) -> bool {
        ["bog", "lime-encrusted"].contains(&state)
    }
}

#[track_caller]
fn check(typed: &str, expected: &[&str]) {
    let lexicon = Lexicon::built_in();
    let (concepts, thesaurus) = (Concepts::new(&lexicon), Thesaurus::new(&lexicon));
    let show = |part: &Part| match &part.asked {
        Asked::Character(facts) => facts
            .iter()
            .map(|fact| match &fact.what {
                What::Season(_, months) => format!("months {:?}", months.list()),
                What::District(name) => format!("in {name}"),
                What::Elevation(span) => format!("at {} m", span.low),
                _ => shown(fact),
            })
            .collect::<Vec<_>>()
            .join(" | "),
        Asked::Name(name) => format!("name {name}"),
        Asked::Phrase(words) => format!("“{words}”"),
        Asked::Word(word) => format!("word {word}"),
        Asked::NotUnderstood(near) => format!("{}? {}", part.words, near.join(" ")),
    };
    let reading = asked(typed, &concepts, &thesaurus, &Isles);
    assert_eq!(reading.parts.iter().map(show).collect::<Vec<_>>(), expected, "{typed}");
}

#[test]
fn a_question_is_read_as_a_description() {
    check(
        "leaves opposite, hairless; petals 5, yellow, 8 mm; not spiny; July",
        &[
            "leaf opposite",
            "leaf hairless | leaf/hair not there | leaf glabrous | leaf smooth",
            "petal #5..5",
            "petal yellow | petal luteous",
            "petal 8..8 mm",
            "- not spiny | spine not there | - not armed | - not echinate",
            "months [7]",
        ],
    );
}

#[test]
fn an_organ_alone_is_asked_for() {
    check("spines", &["spine there"]);
    check("no spines", &["spine not there"]);
    check("without stipules", &["stipule not there"]);
}

#[test]
fn names_districts_and_phrases_are_known() {
    check("Silene alta", &["name Silene alta"]);
    check("skerry campi", &["name skerry campi"]);
    check("silen, leaves hairy", &["name silen", "leaf hairy | leaf/hair there"]);
    check("leaves hairy; North Skerry", &["leaf hairy | leaf/hair there", "in North Skerry"]);
    check("\"calyx inflated\" vane", &["“calyx inflated”", "in Vane"]);
}

#[test]
fn plain_words_of_several_are_put_into_terms() {
    check("leaves long and narrow", &["leaf linear"]);
}

#[test]
fn months_and_elevations_are_known() {
    check("flowering in May", &["months [5]"]);
    check("petals white; June-August", &["petal white", "months [6, 7, 8]"]);
    check("leaves hairy, at 800 m", &["leaf hairy | leaf/hair there", "at 800 m"]);
    check("tree 8 m tall", &["plant tree", "plant 8000..8000 mm tall"]);
}

#[test]
fn what_is_not_understood_is_said() {
    check("leaves lancolate", &["lancolate? lanceolate lineolate"]);
    check("petals 5, bog", &["petal #5..5", "petal bog"]);
}

#[test]
fn counts_may_stand_before_their_noun() {
    check("5 white petals", &["petal #5..5", "petal white"]);
    check("6 pairs of lateral veins", &["vein #6..6", "vein lateral"]);
}
