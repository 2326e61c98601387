//! The themes, role by role: contrast, what tells roles apart without colour, and what terminals of few colours get.

use ratatui::style::{Color, Modifier, Style};

use crate::reader::palette::{self, LEAST_CONTRAST, Rgb, contrast, linear};
use crate::reader::state::Colour;
use crate::reader::theme::{PLAIN, Role, Theme, Told, names};

/// The least contrast of the theme of high contrast: ours, nearly twice what the enhanced criterion asks for.
const HIGH_CONTRAST: f64 = 12.0;

/// The most green, of 255, that the theme for the night mixes into its red.
const MOST_GREEN: u8 = 0x78;

/// The least difference of two colours in CIELAB (1976) at which they count as clearly apart: ours, ten times what is just seen.
const APART: f64 = 20.0;

fn theme(name: &str) -> Theme {
    Theme::named(name, Colour::True).expect("a built-in theme")
}

fn coloured() -> impl Iterator<Item = &'static str> {
    names().into_iter().filter(|name| *name != PLAIN)
}

/// Returns the colours of text and ground as a terminal shows them.
fn seen(style: Style) -> (Rgb, Rgb) {
    let rgb = |colour: Option<Color>| match colour {
        Some(Color::Rgb(red, green, blue)) => [red, green, blue],
        Some(Color::Indexed(index)) => palette::entry(index).expect("an entry that no owner sets"),
        other => panic!("{other:?} is no colour that is known"),
    };
    (rgb(style.fg), rgb(style.bg))
}

#[track_caller]
fn check_contrast(name: &str, colour: Colour, least: f64) {
    let theme = Theme::named(name, colour).expect("a built-in theme");
    for role in Role::ALL {
        let (text, ground) = seen(theme.style(*role));
        let ratio = contrast(text, ground);
        assert!(ratio >= least, "{name} {role:?} in {colour:?} has {ratio:.2}");
    }
}

#[test]
fn every_role_of_the_colour_themes_reaches_the_contrast_of_wcag() {
    for name in coloured() {
        check_contrast(name, Colour::True, LEAST_CONTRAST);
        check_contrast(name, Colour::Indexed, LEAST_CONTRAST);
    }
    check_contrast("contrast", Colour::True, HIGH_CONTRAST);
}

#[test]
fn without_known_colours_there_are_none() {
    for (name, colour) in names()
        .into_iter()
        .flat_map(|name| [(PLAIN, Colour::True), (name, Colour::Never), (name, Colour::Unknown)])
    {
        let theme = Theme::named(name, colour).expect("a built-in theme");
        let bare = |role: &Role| theme.style(*role).fg.is_none() && theme.style(*role).bg.is_none();
        assert!(Role::ALL.iter().all(bare), "{name} {colour:?}");
    }
}

#[test]
fn every_role_is_told_from_running_text_without_colour() {
    for name in names() {
        let theme = theme(name);
        let marks = |role| theme.style(role).add_modifier;
        assert_eq!(marks(Role::Text), Modifier::empty(), "{name}");
        for role in Role::ALL.iter().filter(|role| role.told() == Told::Style) {
            assert!(!marks(*role).is_empty() || is_turned(&theme, *role), "{name} {role:?}");
        }
    }
}

/// Says whether a role has the colours of text the other way round, dark for light.
fn is_turned(theme: &Theme, role: Role) -> bool {
    let ((text, ground), (own, behind)) = (seen(theme.style(Role::Text)), seen(theme.style(role)));
    contrast(text, behind) < contrast(text, ground) / 2.0 && contrast(ground, own) < contrast(text, ground)
}

#[test]
fn what_is_at_hand_or_marked_is_told_from_words_that_are_not() {
    for name in names() {
        let theme = theme(name);
        let marks = |role| theme.style(role).add_modifier;
        assert!(marks(Role::Word).contains(Modifier::UNDERLINED), "{name}");
        // A letter stands right behind the label of the lead at hand.
        assert_ne!(marks(Role::Letter), marks(Role::Hand), "{name}");
        for (role, other) in
            [(Role::Hand, Role::Label), (Role::Marked, Role::Word), (Role::Letter, Role::Word)]
        {
            assert_ne!(marks(role), marks(other), "{name} {role:?}");
        }
    }
}

#[test]
fn the_night_is_red_without_blue_on_black() {
    for role in Role::ALL {
        let (text, ground) = seen(theme("night").style(*role));
        assert_eq!(ground, [0; 3], "{role:?}");
        assert!(text[0] == u8::MAX && text[1] <= MOST_GREEN && text[2] == 0, "{role:?} {text:?}");
    }
    assert!(contrast([255, 0, 0], [0; 3]) < LEAST_CONTRAST, "pure red would do");
}

/// What eyes without one kind of cone see, as matrices over linear red, green and blue: Machado, Oliveira and Fernandes
/// (2009), severity 1.0. The figures are from memory; each row sums to 1, so that white stays white.
const CONES: [(&str, [[f64; 3]; 3]); 4] = [
    ("all", [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]),
    (
        "no long waves",
        [
            [0.152_286, 1.052_583, -0.204_868],
            [0.114_503, 0.786_281, 0.099_216],
            [-0.003_882, -0.048_116, 1.051_998],
        ],
    ),
    (
        "no middle waves",
        [
            [0.367_322, 0.860_646, -0.227_968],
            [0.280_085, 0.672_501, 0.047_413],
            [-0.011_820, 0.042_940, 0.968_881],
        ],
    ),
    (
        "no short waves",
        [
            [1.255_528, -0.076_749, -0.178_779],
            [-0.078_411, 0.930_809, 0.147_602],
            [0.004_733, 0.691_367, 0.303_900],
        ],
    ),
];

/// Returns a colour as such eyes see it, in CIELAB under D65.
fn lab(colour: Rgb, cones: &[[f64; 3]; 3]) -> [f64; 3] {
    let dot = |row: &[f64; 3], by: [f64; 3]| row.iter().zip(by).map(|(one, other)| one * other).sum::<f64>();
    let light = colour.map(linear);
    let [red, green, blue] = [0, 1, 2].map(|row| dot(&cones[row], light).clamp(0.0, 1.0));
    let white = [0.9505, 1.0, 1.089];
    let rows = [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]];
    let [x, y, z] = [0, 1, 2].map(|at| {
        let part: f64 = dot(&rows[at], [red, green, blue]) / white[at];
        if part > 0.008_856 { part.cbrt() } else { 7.787 * part + 16.0 / 116.0 }
    });
    [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
}

fn difference(one: Rgb, other: Rgb, cones: &[[f64; 3]; 3]) -> f64 {
    let parts = lab(one, cones).into_iter().zip(lab(other, cones));
    parts.map(|(one, other)| (one - other).powi(2)).sum::<f64>().sqrt()
}

#[test]
fn the_colours_of_the_distinct_theme_stay_apart_for_eyes_that_see_fewer_hues() {
    let theme = theme("distinct");
    let roles = [Role::Text, Role::Word, Role::Target, Role::Faint, Role::Caution, Role::Letter];
    for (eyes, cones) in &CONES {
        for (at, one) in roles.iter().enumerate() {
            for other in &roles[at + 1..] {
                let ((text, ground), (text2, ground2)) = (seen(theme.style(*one)), seen(theme.style(*other)));
                let apart = difference(text, text2, cones).max(difference(ground, ground2, cones));
                let same = matches!((one, other), (Role::Caution, Role::Letter));
                assert!(same || apart >= APART, "{one:?} and {other:?}, {eyes}: {apart:.1}");
            }
        }
    }
}

#[test]
fn red_and_green_would_not_stay_apart() {
    let (red, green) = ([0x99, 0x33, 0], [0x4d, 0x4d, 0]);
    assert!(difference(red, green, &CONES[0].1) >= APART);
    assert!(difference(red, green, &CONES[2].1) < APART);
}

#[track_caller]
fn check_refused(change: (&str, &str), names: &str) {
    let source = include_str!("../../../themes/sun.toml").replacen(change.0, change.1, 1);
    let error = Theme::read("test", &source, Colour::True).err().expect("a refusal").to_string();
    assert!(error.contains(names), "{error}");
}

#[test]
fn an_unknown_role_or_field_is_refused_with_the_known_ones() {
    check_refused(("[faint]", "[paint]"), "`faint`");
    check_refused(("bold", "blink"), "`underline`");
    check_refused(("#000000", "black"), "#rrggbb");
}

#[test]
fn the_themes_follow_each_other_in_turn_and_say_what_they_are_for() {
    let mut turn = vec![PLAIN];
    for _ in names() {
        turn.push(Theme::after(turn[turn.len() - 1]));
    }
    assert_eq!(turn[1..], names()[..]);
    assert!(names().iter().all(|name| !Theme::about(name).is_empty()));
}
