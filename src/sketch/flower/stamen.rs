//! Stamens: how they are joined, how long they are, and how the anther hangs on its filament.

use crate::sketch::Row;
use crate::sketch::curve;
use crate::sketch::pen::{Look, Pen};

/// Terms for stamens.
pub(in crate::sketch) const ROWS: &[Row] = &[
    ("didynamous", |pen| row(pen, &[0.0, 34.0, 34.0, 0.0], 14.0)),
    ("tetradynamous", |pen| row(pen, &[0.0, 34.0, 34.0, 34.0, 34.0, 0.0], 14.0)),
    ("monadelphous", |pen| tube(pen, &[-26.0, -13.0, 0.0, 13.0, 26.0])),
    ("diadelphous", |pen| {
        tube(pen, &[-36.0, -25.0, -14.0, -3.0, 8.0]);
        stamen(pen, [36.0, -44.0], [36.0, 26.0]);
    }),
    ("syngenesious", syngenesious),
    ("basifixed", |pen| anther(pen, [0.0, -18.0], 0.0)),
    ("dorsifixed", |pen| anther(pen, [0.0, 6.0], 12.0)),
    ("versatile", |pen| anther(pen, [0.0, 6.0], 78.0)),
];

/// Draws a filament with its anther.
fn stamen(pen: &mut Pen, foot: [f32; 2], top: [f32; 2]) {
    pen.line(&[foot, top], Look::Line);
    pen.oval([top[0], top[1] + 5.0], [4.4, 7.5], Look::Ink);
}

/// Draws stamens side by side, each so much longer than the shortest.
fn row(pen: &mut Pen, longer: &[f32], apart: f32) {
    let middle = (longer.len() as f32 - 1.0) / 2.0;
    for (at, more) in longer.iter().enumerate() {
        let x = (at as f32 - middle) * apart;
        stamen(pen, [x * 0.8, -46.0], [x * 1.15, *more]);
    }
    pen.line(&[[-44.0, -47.0], [44.0, -47.0]], Look::Faint);
}

/// Draws stamens whose filaments are joined below.
fn tube(pen: &mut Pen, places: &[f32]) {
    let (first, last) = (places[0], places[places.len() - 1]);
    for x in places {
        let middle = f32::midpoint(first, last);
        stamen(pen, [*x, 0.0], [x + (x - middle) * 0.15, 26.0]);
    }
    pen.figure(
        &[[first - 3.0, -46.0], [last + 3.0, -46.0], [last + 3.0, 2.0], [first - 3.0, 2.0]],
        Look::BoldGrey,
    );
}

fn syngenesious(pen: &mut Pen) {
    for step in 0..5_u8 {
        let x = -18.0 + 9.0 * f32::from(step);
        pen.smooth(&[[x * 1.2, -48.0], [x * 1.7, -28.0], [x, -6.0]], Look::Line);
        pen.figure(
            &[[x - 4.5, -6.0], [x + 4.5, -6.0], [x + 4.5, 30.0], [x, 37.0], [x - 4.5, 30.0]],
            Look::BoldGrey,
        );
    }
    pen.line(&[[0.0, 37.0], [0.0, 44.0]], Look::Faint);
    pen.both(&[[0.0, 44.0], [5.0, 48.0], [11.0, 48.0]], Look::Faint);
}

/// Draws an anther from the side, leaning, and the filament up to where it is fixed.
fn anther(pen: &mut Pen, fixed: [f32; 2], lean: f32) {
    let behind = if lean == 0.0 { 0.0 } else { 1.0 };
    pen.at(
        [behind * if lean > 45.0 { 0.0 } else { -9.0 }, if lean > 45.0 { 13.0 } else { 8.0 }],
        (lean, 1.0),
        |pen| {
            let half = curve::smooth(&[
                [1.0, -25.0],
                [9.0, -26.0],
                [12.0, -10.0],
                [11.0, 14.0],
                [5.0, 27.0],
                [1.0, 24.0],
            ]);
            pen.twin(&half, Look::BoldGrey);
            pen.line(&[[0.0, -23.0], [0.0, 23.0]], Look::Line);
        },
    );
    pen.smooth(&[[6.0 * behind, -50.0], [8.0 * behind, -20.0], fixed], Look::Bold);
    if lean > 0.0 {
        pen.circle(fixed, 3.4, Look::Ink);
    }
}
