//! How leaves stand on the stem, and how each is held by it.

use crate::sketch::Row;
use crate::sketch::curve;
use crate::sketch::leaf::shape::small;
use crate::sketch::pen::{Look, Pen};

/// Terms for arrangement and attachment.
pub(in crate::sketch) const ROWS: &[Row] = &[
    ("alternate", |pen| ranked(pen, [12.0, 12.0])),
    ("opposite", |pen| ranked(pen, [0.0, 0.0])),
    ("subopposite", |pen| ranked(pen, [6.0, 5.0])),
    ("decussate", decussate),
    ("whorled", whorled),
    ("distichous", distichous),
    ("fascicled", fascicled),
    ("rosette", rosette),
    ("equitant", equitant),
    ("imbricate", imbricate),
    ("axillary", axillary),
    ("terminal", terminal),
    ("reflexed", |pen| leaning(pen, 150.0)),
    ("appressed", |pen| leaning(pen, 8.0)),
    ("sessile", |pen| held(pen, 0.0)),
    ("petiolate", |pen| held(pen, 22.0)),
    ("perfoliate", perfoliate),
    ("connate-perfoliate", connate),
    ("clasping", clasping),
    ("decurrent", decurrent),
    ("peltate", peltate),
    ("sheathing", sheathing),
];

fn stem(pen: &mut Pen) {
    pen.line(&[[0.0, -50.0], [0.0, 50.0]], Look::Bold);
}

/// Draws leaves on both sides of the stem, the right ones higher by so much at odd nodes and at even ones.
fn ranked(pen: &mut Pen, higher: [f32; 2]) {
    stem(pen);
    for (foot, more) in [(-38.0, higher[0]), (-12.0, higher[1]), (14.0, higher[0])] {
        for (side, foot) in [(-1.0, foot), (1.0, foot + more)] {
            pen.line(&[[0.0, foot], [side * 6.0, foot + 3.0]], Look::Line);
            small(pen, [side * 6.0, foot + 3.0], (-side * 58.0, 1.4), Look::Paper);
        }
    }
}

fn decussate(pen: &mut Pen) {
    stem(pen);
    for (foot, wide) in [(-38.0, true), (-15.0, false), (8.0, true), (30.0, false)] {
        if wide {
            small(pen, [0.0, foot], (62.0, 1.5), Look::Paper);
            small(pen, [0.0, foot], (-62.0, 1.5), Look::Paper);
        } else {
            // One leaf towards the eye, one away.
            pen.oval([0.0, foot + 6.0], [6.0, 5.0], Look::Paper);
            pen.oval([0.0, foot - 5.0], [7.0, 8.0], Look::Grey);
        }
    }
}

fn whorled(pen: &mut Pen) {
    stem(pen);
    for foot in [-28.0, 16.0] {
        for (lean, size) in
            [(36.0, 0.9), (-36.0, 0.9), (72.0, 1.5), (-72.0, 1.5), (110.0, 1.2), (-110.0, 1.2)]
        {
            small(pen, [0.0, foot], (lean, size), Look::Paper);
        }
        small(pen, [0.0, foot], (176.0, 0.8), Look::Paper);
    }
}

fn distichous(pen: &mut Pen) {
    stem(pen);
    for step in 0..10_u8 {
        let (side, foot) = (if step % 2 == 0 { -1.0 } else { 1.0 }, -44.0 + 8.2 * f32::from(step));
        let blade = curve::smooth(&[[0.0, foot], [side * 20.0, foot + 9.0], [side * 42.0, foot + 12.0]]);
        let under =
            curve::smooth(&[[side * 42.0, foot + 12.0], [side * 22.0, foot + 3.0], [0.0, foot - 3.0]]);
        pen.figure(&[blade, under].concat(), Look::Paper);
    }
}

fn fascicled(pen: &mut Pen) {
    stem(pen);
    for (side, foot) in [(-1.0, -34.0), (1.0, -12.0), (-1.0, 10.0)] {
        pen.circle([side * 4.0, foot], 4.0, Look::Ink);
        for lean in [10.0, 34.0, 58.0, 82.0_f32] {
            let (sine, cosine) = lean.to_radians().sin_cos();
            pen.line(&[[side * 4.0, foot], [side * (4.0 + 36.0 * sine), foot + 36.0 * cosine]], Look::Line);
        }
    }
}

fn rosette(pen: &mut Pen) {
    for step in 0..6_u8 {
        small(pen, [0.0, 0.0], (60.0 * f32::from(step) + 30.0, 1.72), Look::Paper);
    }
    for step in 0..6_u8 {
        small(pen, [0.0, 0.0], (60.0 * f32::from(step), 1.2), Look::Paper);
    }
    for step in 0..5_u8 {
        small(pen, [0.0, 0.0], (72.0 * f32::from(step), 0.45), Look::Grey);
    }
}

fn equitant(pen: &mut Pen) {
    for (foot, lean, long) in
        [(-16.0, 30.0, 66.0), (16.0, -30.0, 66.0), (-9.0, 15.0, 82.0), (9.0, -15.0, 82.0), (0.0, 0.0, 92.0)]
    {
        pen.at([foot * 0.5, -48.0], (lean, 1.0), |pen| {
            pen.twin(
                &curve::smooth(&[[8.0, 0.0], [7.0, long * 0.5], [4.0, long * 0.85], [0.0, long]]),
                Look::Paper,
            );
        });
    }
}

fn imbricate(pen: &mut Pen) {
    for row in 0..7_u8 {
        let y = 34.0 - 12.0 * f32::from(row);
        let places: &[f32] = if row % 2 == 0 { &[0.0] } else { &[-11.0, 11.0] };
        for x in places {
            pen.at([*x, y], (0.0, 1.0), |pen| {
                pen.twin(
                    &curve::smooth(&[[11.0, -14.0], [11.0, -2.0], [6.0, 8.0], [0.0, 14.0]]),
                    Look::Paper,
                );
            });
        }
    }
}

fn axillary(pen: &mut Pen) {
    stem(pen);
    for (side, foot) in [(-1.0, -34.0), (1.0, -4.0)] {
        small(pen, [0.0, foot], (-side * 70.0, 1.7), Look::FaintPaper);
        pen.line(&[[0.0, foot], [side * 12.0, foot + 17.0]], Look::Line);
        pen.circle([side * 13.0, foot + 20.0], 6.0, Look::Ink);
    }
}

fn terminal(pen: &mut Pen) {
    pen.line(&[[0.0, -50.0], [0.0, 34.0]], Look::Bold);
    for (side, foot) in [(-1.0, -34.0), (1.0, -10.0)] {
        small(pen, [0.0, foot], (-side * 60.0, 1.7), Look::FaintPaper);
    }
    pen.circle([0.0, 40.0], 8.0, Look::Ink);
}

/// Draws leaves that lean so many degrees away from the way up.
fn leaning(pen: &mut Pen, lean: f32) {
    stem(pen);
    for foot in [-36.0, -8.0, 20.0] {
        let foot = if lean > 90.0 { foot + 16.0 } else { foot };
        for side in [-1.0, 1.0] {
            pen.at([side * 3.0, foot], (-side * lean, 1.0), |pen| {
                pen.twin(&curve::smooth(&[[0.0, 0.0], [3.6, 8.0], [3.0, 18.0], [0.0, 28.0]]), Look::Paper);
            });
        }
    }
}

/// Draws one leaf on a stalk of some length.
fn held(pen: &mut Pen, stalk: f32) {
    pen.line(&[[-24.0, -50.0], [-24.0, 50.0]], Look::Bold);
    pen.line(&[[-24.0, -12.0], [-24.0 + stalk, -12.0 + stalk * 0.4]], Look::Bold);
    let foot = [-23.0 + stalk, -12.0 + stalk * 0.4];
    small(pen, foot, (-66.0, if stalk > 0.0 { 1.75 } else { 2.45 }), Look::Paper);
    pen.line(&[foot, [foot[0] + 38.0, foot[1] + 17.0]], Look::Faint);
}

fn perfoliate(pen: &mut Pen) {
    pen.line(&[[0.0, -50.0], [0.0, -2.0]], Look::Bold);
    pen.blob(
        &[[-17.0, 3.0], [-8.0, -12.0], [14.0, -14.0], [34.0, -4.0], [48.0, 10.0], [28.0, 16.0], [4.0, 14.0]],
        Look::Paper,
    );
    pen.line(&[[6.0, 2.0], [38.0, 7.0]], Look::Faint);
    pen.line(&[[0.0, 0.0], [0.0, 50.0]], Look::Bold);
}

fn connate(pen: &mut Pen) {
    pen.line(&[[0.0, -50.0], [0.0, -4.0]], Look::Bold);
    let top = curve::smooth(&[[48.0, 14.0], [28.0, 17.0], [10.0, 9.0], [0.0, 7.0]]);
    let under = curve::smooth(&[[0.0, -12.0], [12.0, -13.0], [32.0, -6.0], [48.0, 14.0]]);
    pen.twin(&[under, top].concat(), Look::Paper);
    pen.line(&[[-38.0, 8.0], [0.0, -2.0], [38.0, 8.0]], Look::Faint);
    pen.line(&[[0.0, -2.0], [0.0, 50.0]], Look::Bold);
}

fn clasping(pen: &mut Pen) {
    pen.line(&[[-18.0, -50.0], [-18.0, 50.0]], Look::Bold);
    let top = curve::smooth(&[[-26.0, -4.0], [-14.0, 8.0], [12.0, 18.0], [44.0, 26.0]]);
    let under = curve::smooth(&[
        [44.0, 26.0],
        [26.0, -2.0],
        [4.0, -16.0],
        [-16.0, -24.0],
        [-28.0, -16.0],
        [-26.0, -4.0],
    ]);
    pen.figure(&[top, under].concat(), Look::Paper);
    pen.smooth(&[[-18.0, -10.0], [8.0, 0.0], [34.0, 18.0]], Look::Faint);
    pen.line(&[[-18.0, 6.0], [-18.0, 50.0]], Look::Bold);
}

fn decurrent(pen: &mut Pen) {
    pen.line(&[[-10.0, -50.0], [-10.0, 50.0]], Look::Bold);
    let top = curve::smooth(&[[-10.0, 6.0], [8.0, 16.0], [26.0, 26.0], [44.0, 34.0]]);
    let under = curve::smooth(&[
        [44.0, 34.0],
        [32.0, 14.0],
        [12.0, -2.0],
        [-1.0, -14.0],
        [-3.0, -32.0],
        [-10.0, -46.0],
    ]);
    pen.figure(&[top, under].concat(), Look::BoldGrey);
}

fn peltate(pen: &mut Pen) {
    pen.blob(
        &[
            [-44.0, 12.0],
            [-28.0, 30.0],
            [2.0, 38.0],
            [32.0, 30.0],
            [44.0, 10.0],
            [28.0, -8.0],
            [0.0, -14.0],
            [-30.0, -8.0],
        ],
        Look::Paper,
    );
    for end in
        [[-34.0, 12.0], [-20.0, 26.0], [2.0, 31.0], [24.0, 24.0], [35.0, 9.0], [20.0, -3.0], [-20.0, -4.0]]
    {
        pen.line(&[[0.0, 10.0], end], Look::Faint);
    }
    pen.smooth(&[[-14.0, -50.0], [-10.0, -26.0], [0.0, 10.0]], Look::Bold);
    pen.circle([0.0, 10.0], 3.0, Look::Ink);
}

fn sheathing(pen: &mut Pen) {
    pen.line(&[[-4.0, 50.0], [-4.0, -50.0]], Look::Line);
    pen.line(&[[4.0, 50.0], [4.0, -50.0]], Look::Line);
    pen.figure(&[[-9.0, -44.0], [9.0, -44.0], [10.0, 2.0], [-8.0, 6.0]], Look::BoldGrey);
    let top = curve::smooth(&[[-8.0, 6.0], [8.0, 16.0], [26.0, 26.0], [44.0, 20.0]]);
    let under = curve::smooth(&[[44.0, 20.0], [28.0, 16.0], [10.0, 2.0]]);
    pen.figure(&[top, under].concat(), Look::Paper);
}
