//! Descriptions into facts, row by row of the conventions.

use crate::describe::concept::Concepts;
use crate::describe::read::{self, Ground};
use crate::describe::{Degree, Dimension, Fact, Frequency, Said, What};
use crate::terms::Lexicon;

/// Writes a fact in one line.
pub(super) fn shown(fact: &Fact) -> String {
    let mut words = String::new();
    if let Some(of) = fact.of {
        words += &format!("{of}/");
    }
    words += fact.organ.unwrap_or("-");
    words += if fact.said == Said::IsNot { " not " } else { " " };
    words += match fact.frequency {
        Frequency::Rarely => "rarely ",
        Frequency::Sometimes => "sometimes ",
        Frequency::Usually => "usually ",
        Frequency::Always => "",
    };
    words += match fact.degree {
        Degree::Weakly => "weakly ",
        Degree::Between => "between ",
        Degree::Plainly => "",
        Degree::Strongly => "strongly ",
    };
    let number = |value: f32| format!("{}", (value * 100.0).round() / 100.0);
    let span = |span: &crate::describe::Span| {
        let about = if span.about { "c" } else { "" };
        let mut words = format!("{about}{}..{}", number(span.low), number(span.high));
        if span.least < span.low || span.most > span.high {
            words += &format!(" ({}..{})", number(span.least), number(span.most));
        }
        words
    };
    words
        + &match &fact.what {
            What::State(state) => state.clone(),
            What::Presence => "there".to_owned(),
            What::Measure(Dimension::Length, amount) => format!("{} mm", span(amount)),
            What::Measure(dimension, amount) => format!("{} mm {}", span(amount), dimension.word()),
            What::Count(amount) => format!("#{}", span(amount)),
            What::Ratio(amount, to) => format!("{} x {}", span(amount), to.as_deref().unwrap_or("-")),
            What::Season(..) | What::Elevation(_) | What::District(_) | What::Status(_) => "?".to_owned(),
        }
}

pub(super) fn facts_of(text: &str) -> Vec<String> {
    let lexicon = Lexicon::built_in();
    read::facts(text, &Concepts::new(&lexicon), Ground::default()).iter().map(shown).collect()
}

/// Checks that the text says each of these, and nothing beginning with what a `!` stands before.
#[track_caller]
pub(super) fn check(text: &str, expected: &[&str]) {
    let found = facts_of(text);
    for want in expected {
        let fine = match want.strip_prefix('!') {
            Some(unwanted) => !found.iter().any(|fact| fact.starts_with(unwanted)),
            None => found.iter().any(|fact| fact == want),
        };
        assert!(fine, "{text}: {want}\nfound {found:#?}");
    }
}

#[test]
fn t20_to_t25_measures() {
    check("Petiole 3–5 cm", &["petiole 30..50 mm"]);
    check("Petiole (2–)3–5(–7) cm long", &["petiole 30..50 (20..70) mm"]);
    check("Shrubs to 3 m", &["plant 0..3000 mm tall"]);
    check("Stem up to 3 m tall", &["stem 0..3000 mm tall"]);
    check("Style ca. 3 mm", &["style c3..3 mm"]);
    check("Style about 3 mm long", &["style c3..3 mm"]);
    check("Anthers 3 mm", &["anther 3..3 mm"]);
    check("Leaves 3–5 × 1–2 cm", &["leaf 30..50 mm", "leaf 10..20 mm wide"]);
    check("Leaves 3–5 cm × 8–12 mm", &["leaf 30..50 mm", "leaf 8..12 mm wide"]);
    check("Blades ovate, 3–5 cm long, 1–2 cm wide", &["blade 30..50 mm", "blade 10..20 mm wide"]);
    check("Flowers 8–11 mm across", &["flower 8..11 mm across"]);
}

#[test]
fn t26_ratios() {
    check("Petals 2–3 × as long as the sepals", &["petal 2..3 x sepal", "!sepal"]);
    check("Petals 2–3 times longer than sepals", &["petal 2..3 x sepal"]);
    check("Petals 1½–2× as long as the sepals", &["petal 1.5..2 x sepal"]);
    check("Petals twice as long as the sepals", &["petal 2..2 x sepal"]);
    check("Petals shorter than the sepals", &["petal 0..1 x sepal"]);
    check("Petals c. as long as the sepals", &["petal c1..1 x sepal"]);
}

#[test]
fn t27_a_magnification_is_no_count() {
    check("Leaf, × 2", &["!leaf #"]);
}

#[test]
fn t28_separate_states() {
    check("Stamens 5 or 10", &["stamen #5..5", "stamen #10..10"]);
    check("Stamens 5(or 10)", &["stamen #5..5", "stamen rarely #10..10"]);
    check("Style (3 or)4-lobed", &["style/lobe #4..4", "style/lobe rarely #3..3"]);
}

#[test]
fn t29_numbers_joined_to_a_word() {
    check("Style 3–5-lobed", &["style/lobe #3..5", "style lobed"]);
    check("Leaves 2–3-pinnate", &["leaf/order of pinnae #2..3"]);
    check("Flowers 5-merous", &["flower/flower part #5..5"]);
}

#[test]
fn t30_old_inches() {
    check("Leaves 1-1/2-2-1/2 in. long", &["leaf 38.1..63.5 mm"]);
    check("Cones 1/8-3/8 inch long", &["cone 3.18..9.52 mm"]);
}

#[test]
fn t31_deviation_and_more_or_less() {
    check("Seeds 3.2 ± 0.4 mm", &["seed 2.8..3.6 mm"]);
    check("Leaves ± glabrous", &["leaf weakly glabrous"]);
}

#[test]
fn t32_limits_deny_nothing() {
    check("Ligule under 1 mm long", &["ligule 0..1 mm"]);
    check("Petals not over 2 mm", &["petal 0..2 mm", "!petal not"]);
    check("Leaves not exceeding 1/2 inch", &["leaf 0..12.7 mm", "!leaf not"]);
    check("Scales less than 1/10 inch", &["scale 0..2.54 mm"]);
    check("Stamens numerous, more than 12", &["stamen #12..inf"]);
}

#[test]
fn t33_nought_is_absence() {
    check("Calyx 0; corolla 0", &["calyx not there", "corolla not there", "!calyx there"]);
}

#[test]
fn t34_old_units() {
    check("Tree 40–50 feet high", &["plant 12192..15240 mm tall"]);
    check("Petals 3 lines long", &["petal 6.35..6.35 mm"]);
    check("Spores 12 µm across", &["!spore 12"]);
}

#[test]
fn t36_words_for_numbers() {
    check("Stamens numerous", &["stamen #6..inf"]);
    check("Flowers solitary", &["flower #1..1", "flower solitary"]);
    check("Carpels 3 to many", &["carpel #3..inf"]);
    check("Styles 3–∞", &["style #3..inf"]);
}

#[test]
fn t37_chromosomes_are_no_measures() {
    for text in ["2n = 24", "n = 12, 2n = 24, 36", "2n = c. 80", "Leaves flat; 2n = 18 + 0–2B"] {
        check(text, &["!- #", "!leaf #", "!leaf 2"]);
    }
}

#[test]
fn s8_values() {
    check("anthers 1.2–2 mm", &["anther 1.2..2 mm"]);
    check("trees ca. 10 m tall", &["plant c10000..10000 mm tall"]);
    check("ovary to 2 mm", &["ovary 0..2 mm"]);
    check("filaments 10", &["filament #10..10"]);
    check("filaments ca. 3 mm", &["filament c3..3 mm"]);
    check("stem ca. 5 mm in diam.", &["stem c5..5 mm across"]);
    check("leaf blade 3–5 cm", &["leaf 30..50 mm"]);
    check("style 3–5-lobed", &["style/lobe #3..5"]);
    check("petiole 3–5(–7) cm", &["petiole 30..50 (30..70) mm"]);
    check("leaf blade lanceolate to rarely ovate", &["leaf lanceolate", "leaf rarely ovate"]);
    check("stamens 5 or 10", &["stamen #5..5", "stamen #10..10"]);
    check("leaves 2-5(-10) mm long", &["leaf 2..5 (2..10) mm"]);
    check("lemma 5.0 mm x 2.5 mm", &["lemma 5..5 mm", "lemma 2.5..2.5 mm wide"]);
}

#[test]
fn t14_what_follows_a_noun_is_about_it() {
    check(
        "Stems erect, hairy; leaves ovate, acute",
        &["stem erect", "stem hairy", "leaf ovate", "leaf acute"],
    );
    check("Blades rounded at the base, acute at the apex", &["blade/base rounded", "blade/apex acute"]);
    check("Blades elliptic; margins entire", &["blade/margin entire"]);
    check("Lateral veins in 5–9 pairs", &["vein #5..9"]);
    check("Inflorescence of 15–26 flowers", &["inflorescence/flower #15..26"]);
    check(
        "Petals white, with 2 yellow spots, ovate",
        &["petal white", "petal ovate", "petal/spot #2..2", "petal/spot yellow"],
    );
    check("Leaves entire, the petiole 4–10 cm long", &["petiole 40..100 mm"]);
    check(
        "Stems hirsute with spreading hairs 1–2 mm long",
        &["stem hirsute", "stem/hair 1..2 mm", "stem/hair spreading"],
    );
}

#[test]
fn g1_g2_joined_words() {
    check("Leaves oblong-lanceolate", &["leaf between oblong", "leaf between lanceolate"]);
    check("Leaves ovate-acuminate", &["leaf ovate", "leaf acuminate"]);
}

#[test]
fn g3_to_or_and_rarely() {
    check("Leaves lanceolate, rarely ovate", &["leaf lanceolate", "leaf rarely ovate"]);
    check("Petals usually white", &["petal usually white"]);
}

#[test]
fn g6_almost() {
    check("Leaves subglabrous", &["leaf weakly glabrous", "!leaf/hair not"]);
    check("Leaves almost sessile", &["leaf weakly sessile"]);
}
