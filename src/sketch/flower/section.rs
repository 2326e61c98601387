//! A flower cut lengthwise: where the ovary lies, and what each part is. What the term is about is bold or filled.

use crate::sketch::Row;
use crate::sketch::curve::{self, At};
use crate::sketch::pen::{Look, Pen};

/// Terms that a flower cut lengthwise shows.
pub(in crate::sketch) const ROWS: &[Row] = &[
    ("receptacle", |pen| {
        flower(pen, &PLAIN);
        pen.blob(&[[-11.0, -24.0], [0.0, -21.0], [11.0, -24.0], [6.0, -32.0], [-6.0, -32.0]], Look::Ink);
    }),
    ("sepal", |pen| flower(pen, &Parts { sepal: Look::Ink, ..PLAIN })),
    ("petal", |pen| flower(pen, &Parts { petal: Look::BoldGrey, ..PLAIN })),
    ("stamen", |pen| flower(pen, &Parts { filament: Look::Bold, anther: Look::Ink, ..PLAIN })),
    ("filament", |pen| flower(pen, &Parts { filament: Look::Bold, ..PLAIN })),
    ("anther", |pen| flower(pen, &Parts { anther: Look::Ink, ..PLAIN })),
    ("pistil", |pen| flower(pen, &Parts { ovary: Look::Ink, style: Look::Bold, stigma: Look::Ink, ..PLAIN })),
    ("ovary", |pen| flower(pen, &Parts { ovary: Look::Ink, ..PLAIN })),
    ("style", |pen| flower(pen, &Parts { style: Look::Bold, ..PLAIN })),
    ("stigma", |pen| flower(pen, &Parts { stigma: Look::Ink, ..PLAIN })),
    ("superior", |pen| ovary(pen, -22.0, Look::Ink)),
    ("half-inferior", |pen| ovary(pen, -6.0, Look::Ink)),
    ("inferior", |pen| ovary(pen, 6.0, Look::Ink)),
    ("perigynous", perigynous),
    ("hypanthium", hypanthium),
    ("exserted", |pen| reaching(pen, 46.0)),
    ("included", |pen| reaching(pen, 8.0)),
];

/// How each part of a flower is drawn.
struct Parts {
    sepal: Look,
    petal: Look,
    filament: Look,
    anther: Look,
    ovary: Look,
    style: Look,
    stigma: Look,
}

/// All parts faint.
const PLAIN: Parts = Parts {
    sepal: Look::FaintPaper,
    petal: Look::Faint,
    filament: Look::Faint,
    anther: Look::FaintPaper,
    ovary: Look::FaintPaper,
    style: Look::Faint,
    stigma: Look::FaintPaper,
};

fn flower(pen: &mut Pen, parts: &Parts) {
    pen.line(&[[0.0, -50.0], [0.0, -30.0]], Look::Faint);
    for side in [-1.0, 1.0] {
        let mirrored = |points: &[At]| -> Vec<At> { points.iter().map(|[x, y]| [side * x, *y]).collect() };
        pen.blob(
            &mirrored(&[[10.0, -25.0], [26.0, -10.0], [40.0, 14.0], [42.0, 36.0], [30.0, 28.0], [20.0, 4.0]]),
            parts.petal,
        );
        pen.blob(
            &mirrored(&[[8.0, -29.0], [26.0, -24.0], [42.0, -10.0], [28.0, -16.0], [12.0, -24.0]]),
            parts.sepal,
        );
        pen.smooth(&mirrored(&[[7.0, -22.0], [14.0, 0.0], [18.0, 20.0]]), parts.filament);
        pen.oval([side * 18.5, 25.0], [4.5, 7.5], parts.anther);
    }
    pen.line(&[[0.0, 0.0], [0.0, 30.0]], parts.style);
    pen.oval([0.0, -11.0], [7.5, 12.5], parts.ovary);
    pen.oval([0.0, 33.0], [6.0, 3.6], parts.stigma);
    pen.smooth(&[[-9.0, -25.0], [0.0, -31.0], [9.0, -25.0]], Look::Faint);
}

/// Draws a flower whose other parts begin at some height beside its ovary.
fn ovary(pen: &mut Pen, height: f32, look: Look) {
    pen.line(&[[0.0, -50.0], [0.0, -24.0]], Look::Line);
    let breadth = 15.0 * (1.0 - ((height + 8.0) / 17.0).powi(2)).max(0.1).sqrt();
    for side in [-1.0, 1.0] {
        let from = [side * breadth.max(4.0), height];
        pen.smooth(&[from, [side * 30.0, height + 8.0], [side * 44.0, height + 30.0]], Look::Line);
        pen.smooth(&[from, [side * 30.0, height - 2.0], [side * 44.0, height + 6.0]], Look::Line);
        let top = [side * 17.0, height.max(-6.0) + 32.0];
        pen.smooth(&[from, [side * 17.0, height + 12.0], top], Look::Line);
        pen.oval([top[0], top[1] + 4.0], [2.6, 4.6], Look::Paper);
    }
    pen.oval([0.0, -8.0], [14.0, 17.0], look);
    pen.line(&[[0.0, 8.0], [0.0, 34.0]], Look::Line);
    pen.oval([0.0, 36.0], [4.5, 2.5], Look::Line);
}

/// Draws a cup that bears the other parts on its rim, with the ovary free in it.
fn cup(pen: &mut Pen, [wall, parts, ovary]: [Look; 3]) {
    pen.line(&[[0.0, -50.0], [0.0, -34.0]], parts.line());
    pen.both(&[[0.0, -33.0], [20.0, -29.0], [28.0, -12.0], [27.0, 6.0]], wall);
    for side in [-1.0, 1.0] {
        pen.smooth(&[[side * 27.0, 6.0], [side * 36.0, 18.0], [side * 47.0, 38.0]], parts.line());
        pen.smooth(&[[side * 27.0, 6.0], [side * 40.0, 6.0], [side * 49.0, 12.0]], parts.line());
        pen.smooth(&[[side * 27.0, 6.0], [side * 22.0, 16.0], [side * 20.0, 30.0]], parts.line());
        pen.oval(
            [side * 20.0, 34.0],
            [2.6, 4.6],
            if parts == Look::Faint { Look::FaintPaper } else { Look::Paper },
        );
    }
    pen.oval([0.0, -16.0], [10.0, 15.0], ovary);
    pen.line(&[[0.0, -2.0], [0.0, 30.0]], parts.line());
    pen.oval([0.0, 32.0], [4.5, 2.5], parts.line());
}

fn perigynous(pen: &mut Pen) {
    cup(pen, [Look::Line, Look::Line, Look::Ink]);
}

fn hypanthium(pen: &mut Pen) {
    cup(pen, [Look::Bold, Look::Faint, Look::FaintPaper]);
}

/// Draws stamens that reach so high in a tubular corolla.
fn reaching(pen: &mut Pen, high: f32) {
    pen.line(&[[0.0, -50.0], [0.0, -36.0]], Look::Faint);
    let side = curve::smooth(&[[3.0, -36.0], [14.0, -28.0], [16.0, -4.0], [18.0, 16.0], [34.0, 24.0]]);
    pen.line(&side, Look::Line);
    pen.line(&curve::mirror(&side), Look::Line);
    for x in [-8.0, 0.0, 8.0_f32] {
        let top = high - x.abs() * 0.7;
        pen.smooth(
            &[[x * 0.4, -30.0], [x, -12.0], [x * if high > 20.0 { 1.4 } else { 0.9 }, top - 5.0]],
            Look::Line,
        );
        pen.oval([x * if high > 20.0 { 1.5 } else { 0.9 }, top - 2.0], [3.2, 5.0], Look::Ink);
    }
}
