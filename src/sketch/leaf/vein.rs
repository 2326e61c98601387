//! Veins, on one common leaf that steps back, and the parts of a leaf.

use crate::sketch::Row;
use crate::sketch::curve::{self, At};
use crate::sketch::leaf::shape::{BLUNT, Leaf, ROUND, SHARP, SQUARE};
use crate::sketch::pen::{Look, Pen};

/// Terms for veins and parts.
pub(in crate::sketch) const ROWS: &[Row] = &[
    ("pinnately veined", |pen| {
        leaf(pen);
        sides(pen, [0.86, 14.0], Look::Line);
    }),
    ("craspedodromous", |pen| {
        leaf(pen);
        sides(pen, [1.0, 12.0], Look::Bold);
    }),
    ("brochidodromous", looped),
    ("palmately veined", palmate),
    ("parallel-veined", parallel),
    ("netted-veined", netted),
    ("triple-nerved", triple),
    ("acrodromous", acrodromous),
    ("midrib", |pen| {
        leaf(pen);
        sides(pen, [0.86, 14.0], Look::Faint);
        pen.line(&[[0.0, -38.0], [0.0, 44.0]], Look::Bold);
    }),
    ("blade", |pen| {
        COMMON.draw(pen, Look::BoldGrey);
        stipules(pen, Look::Faint);
    }),
    ("petiole", |pen| {
        short(pen, Look::Faint);
        stipules(pen, Look::Faint);
        pen.line(&[[0.0, -46.0], [0.0, -10.0]], Look::Bold);
    }),
    ("stipule", |pen| {
        short(pen, Look::Faint);
        pen.line(&[[0.0, -46.0], [0.0, -10.0]], Look::Faint);
        stipules(pen, Look::Ink);
    }),
    ("ocrea", ocrea),
    ("ligule", |pen| grass(pen, [Look::Faint, Look::Ink, Look::Faint])),
    ("sheath", |pen| grass(pen, [Look::BoldGrey, Look::Faint, Look::Faint])),
    ("auricle", |pen| grass(pen, [Look::Faint, Look::Faint, Look::Ink])),
];

/// The leaf that all veins are drawn on.
const COMMON: Leaf = Leaf::new(1.5, 0.42, [ROUND, BLUNT]);

fn leaf(pen: &mut Pen) {
    pen.twin(&COMMON.margin(), Look::Faint);
    pen.line(&[[0.0, -50.0], [0.0, 42.0]], Look::Line);
}

/// Draws veins on both sides of the midrib as far as a share of the half breadth, rising so much.
fn sides(pen: &mut Pen, [share, rise]: [f32; 2], look: Look) {
    for step in 0..5_u8 {
        let foot = -32.0 + 14.0 * f32::from(step);
        let reach = COMMON.breadth((foot + rise + 38.0) / 84.0) * share;
        pen.both(&[[0.0, foot], [reach * 0.55, foot + rise * 0.5], [reach, foot + rise]], look);
    }
}

fn looped(pen: &mut Pen) {
    leaf(pen);
    for step in 0..4_u8 {
        let foot = -30.0 + 16.0 * f32::from(step);
        let reach = COMMON.breadth((foot + 46.0) / 84.0) * 0.86;
        let next = COMMON.breadth((foot + 62.0) / 84.0) * 0.72;
        pen.both(
            &[
                [0.0, foot],
                [reach * 0.6, foot + 5.0],
                [reach, foot + 12.0],
                [reach, foot + 19.0],
                [next, foot + 23.0],
            ],
            Look::Line,
        );
    }
}

fn palmate(pen: &mut Pen) {
    leaf(pen);
    pen.both(&[[0.0, -38.0], [13.0, -12.0], [22.0, 14.0]], Look::Bold);
    pen.both(&[[0.0, -38.0], [14.0, -26.0], [25.0, -12.0]], Look::Bold);
    pen.line(&[[0.0, -38.0], [0.0, 42.0]], Look::Bold);
}

fn parallel(pen: &mut Pen) {
    let blade = Leaf::new(3.0, 0.45, [SQUARE, SHARP]);
    pen.twin(&blade.margin(), Look::Faint);
    for share in [-0.7, -0.35, 0.0, 0.35, 0.7_f32] {
        let line: Vec<At> = blade.margin().iter().map(|[x, y]| [x * share, *y]).collect();
        pen.line(&line, Look::Line);
    }
}

fn netted(pen: &mut Pen) {
    leaf(pen);
    sides(pen, [0.95, 14.0], Look::Line);
    for step in 0..5_u8 {
        let foot = -32.0 + 14.0 * f32::from(step);
        for x in [8.0, 17.0] {
            let up = foot + x * 0.55;
            if x + 4.0 < COMMON.breadth((up + 45.0) / 84.0) {
                pen.both(&[[x, up], [x + 2.0, up + 7.0], [x, up + 14.0]], Look::Line);
            }
        }
    }
}

fn triple(pen: &mut Pen) {
    leaf(pen);
    pen.both(&[[0.0, -20.0], [11.0, -6.0], [14.0, 12.0], [9.0, 28.0]], Look::Bold);
    pen.line(&[[0.0, -38.0], [0.0, 42.0]], Look::Bold);
}

fn acrodromous(pen: &mut Pen) {
    pen.twin(&COMMON.margin(), Look::Faint);
    pen.line(&[[0.0, -50.0], [0.0, 44.0]], Look::Line);
    for share in [0.38, 0.72] {
        let line: Vec<At> = COMMON.margin().iter().map(|[x, y]| [x * share, *y]).collect();
        pen.line(&line, Look::Bold);
        pen.line(&curve::mirror(&line), Look::Bold);
    }
}

/// Draws a leaf that leaves room for a long stalk.
fn short(pen: &mut Pen, look: Look) {
    pen.at([0.0, 16.0], (0.0, 0.66), |pen| pen.twin(&COMMON.margin(), look));
    pen.line(&[[-30.0, -48.0], [30.0, -48.0]], Look::Faint);
}

fn stipules(pen: &mut Pen, look: Look) {
    for side in [-1.0, 1.0] {
        let leaf = curve::smooth(&[[side * 1.0, -46.0], [side * 12.0, -42.0], [side * 17.0, -28.0]]);
        let back = curve::smooth(&[[side * 17.0, -28.0], [side * 5.0, -32.0], [side * 1.0, -46.0]]);
        pen.figure(&[leaf, back].concat(), look);
    }
}

fn ocrea(pen: &mut Pen) {
    pen.line(&[[-5.0, -50.0], [-5.0, 50.0]], Look::Line);
    pen.line(&[[5.0, -50.0], [5.0, 50.0]], Look::Line);
    pen.blob(&[[6.0, -18.0], [20.0, -6.0], [46.0, 8.0], [34.0, -16.0], [18.0, -22.0]], Look::FaintPaper);
    pen.figure(
        &[[-8.0, -20.0], [8.0, -20.0], [10.0, 14.0], [5.0, 9.0], [0.0, 15.0], [-5.0, 9.0], [-10.0, 14.0]],
        Look::BoldGrey,
    );
    pen.line(&[[-12.0, -20.0], [12.0, -20.0]], Look::Bold);
}

/// Draws a grass leaf at its joint with the culm: sheath, ligule and auricles.
fn grass(pen: &mut Pen, [sheath, ligule, auricle]: [Look; 3]) {
    pen.line(&[[-4.0, 6.0], [-4.0, 50.0]], Look::Faint);
    pen.line(&[[4.0, 6.0], [4.0, 50.0]], Look::Faint);
    pen.figure(&[[-12.0, -50.0], [12.0, -50.0], [12.0, 0.0], [-12.0, 0.0]], sheath);
    let blade = curve::smooth(&[[12.0, 0.0], [24.0, 20.0], [36.0, 32.0], [50.0, 36.0]]);
    pen.line(&blade, Look::Faint);
    pen.smooth(&[[-12.0, 0.0], [8.0, 22.0], [28.0, 38.0], [50.0, 37.0]], Look::Faint);
    pen.figure(&[[-9.0, 2.0], [-8.0, 18.0], [-3.0, 23.0], [4.0, 22.0], [8.0, 16.0], [10.0, 2.0]], ligule);
    for side in [-1.0, 1.0] {
        pen.blob(
            &[[side * 12.0, 2.0], [side * 20.0, 0.0], [side * 22.0, -9.0], [side * 12.0, -7.0]],
            auricle,
        );
    }
}
