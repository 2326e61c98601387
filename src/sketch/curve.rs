//! Points and lines as maths: smooth lines through points, arcs, mirror images, turns, and places along a line.

/// A point, right and up from the middle of the frame.
pub(super) type At = [f32; 2];

/// Pieces that a smooth line has between two of its points.
const PIECES: usize = 8;

/// Degrees of an arc between two of its points.
const ARC_STEP: f32 = 10.0;

/// A change of place, angle and size.
#[derive(Clone, Copy, Debug)]
pub(super) struct Turn {
    middle: At,
    right: At,
    up: At,
}

impl Default for Turn {
    fn default() -> Turn {
        Turn { middle: [0.0, 0.0], right: [1.0, 0.0], up: [0.0, 1.0] }
    }
}

impl Turn {
    /// Returns a turn about the middle by degrees against the clock, after growing by a factor and before moving.
    pub(super) fn new(middle: At, degrees: f32, factor: f32) -> Turn {
        let (sine, cosine) = degrees.to_radians().sin_cos();
        Turn { middle, right: [cosine * factor, sine * factor], up: [-sine * factor, cosine * factor] }
    }

    /// Returns where a point comes to lie.
    pub(super) fn of(&self, [x, y]: At) -> At {
        let along = |axis: usize| self.middle[axis] + self.right[axis] * x + self.up[axis] * y;
        [along(0), along(1)]
    }

    /// Returns this turn with another one within it.
    pub(super) fn then(&self, inner: Turn) -> Turn {
        let zero = self.of([0.0, 0.0]);
        let arm = |arm: At| {
            let end = self.of(arm);
            [end[0] - zero[0], end[1] - zero[1]]
        };
        Turn { middle: self.of(inner.middle), right: arm(inner.right), up: arm(inner.up) }
    }
}

/// Returns a smooth line through points: cubic pieces whose slopes at a point follow its neighbours.
pub(super) fn smooth(points: &[At]) -> Vec<At> {
    let Some(last) = points.len().checked_sub(1) else { return Vec::new() };
    let mut line = Vec::with_capacity(last * PIECES + 1);
    for at in 0..last {
        let around = [points[at.saturating_sub(1)], points[at], points[at + 1], points[(at + 2).min(last)]];
        line.extend((0..PIECES).map(|piece| between(around, piece as f32 / PIECES as f32)));
    }
    line.push(points[last]);
    line
}

/// Returns a smooth closed line through points.
pub(super) fn smooth_ring(points: &[At]) -> Vec<At> {
    let count = points.len();
    let around = |at: usize| [count - 1, 0, 1, 2].map(|step| points[(at + step) % count]);
    (0..count)
        .flat_map(|at| (0..PIECES).map(move |piece| between(around(at), piece as f32 / PIECES as f32)))
        .collect()
}

/// Returns the point at a share of the way between the two middle ones of four points (Catmull and Rom's spline).
fn between([a, b, c, d]: [At; 4], share: f32) -> At {
    let (square, cube) = (share * share, share * share * share);
    let on = |axis: usize| {
        0.5 * (2.0 * b[axis]
            + (c[axis] - a[axis]) * share
            + (2.0 * a[axis] - 5.0 * b[axis] + 4.0 * c[axis] - d[axis]) * square
            + (3.0 * b[axis] - a[axis] - 3.0 * c[axis] + d[axis]) * cube)
    };
    [on(0), on(1)]
}

/// Returns an arc of an ellipse, by degrees from the right against the clock.
pub(super) fn arc([x, y]: At, [wide, high]: At, (from, to): (f32, f32)) -> Vec<At> {
    let steps = ((to - from).abs() / ARC_STEP).ceil().max(1.0);
    (0..=steps as usize)
        .map(|step| {
            let (sine, cosine) = (from + (to - from) * step as f32 / steps).to_radians().sin_cos();
            [x + wide * cosine, y + high * sine]
        })
        .collect()
}

/// Returns the mirror image on the other side of the upright through the middle.
pub(super) fn mirror(points: &[At]) -> Vec<At> {
    points.iter().map(|[x, y]| [-x, *y]).collect()
}

/// Returns a closed line from its right side, first to last, and the mirror image of it, last to first.
pub(super) fn twin(right: &[At]) -> Vec<At> {
    let mut ring = right.to_vec();
    ring.extend(mirror(right).into_iter().rev());
    ring
}

/// Returns the distance of two points.
pub(super) fn distance(a: At, b: At) -> f32 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

/// Returns the length of a line.
pub(super) fn length(line: &[At]) -> f32 {
    line.windows(2).map(|pair| distance(pair[0], pair[1])).sum()
}

/// Returns the point at a share of a line's length, and the direction of the line there.
pub(super) fn along(line: &[At], share: f32) -> (At, At) {
    let mut left = share.clamp(0.0, 1.0) * length(line);
    let mut end = ([0.0, 0.0], [0.0, 1.0]);
    for pair in line.windows(2) {
        let long = distance(pair[0], pair[1]);
        if long <= 0.0 {
            continue;
        }
        let way = [(pair[1][0] - pair[0][0]) / long, (pair[1][1] - pair[0][1]) / long];
        if left <= long {
            return ([pair[0][0] + way[0] * left, pair[0][1] + way[1] * left], way);
        }
        left -= long;
        end = (pair[1], way);
    }
    end
}
