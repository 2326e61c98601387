//! Affine maps of the plane, as PDF writes them.

/// The map `(x, y) → (a·x + c·y + e, b·x + d·y + f)`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Matrix {
    pub(super) a: f32,
    pub(super) b: f32,
    pub(super) c: f32,
    pub(super) d: f32,
    pub(super) e: f32,
    pub(super) f: f32,
}

impl Matrix {
    /// The map that changes nothing.
    pub(super) const IDENTITY: Self = Self { a: 1.0, b: 0.0, c: 0.0, d: 1.0, e: 0.0, f: 0.0 };

    /// Makes a map of six numbers in PDF's order.
    pub(super) fn of(numbers: [f32; 6]) -> Self {
        Self { a: numbers[0], b: numbers[1], c: numbers[2], d: numbers[3], e: numbers[4], f: numbers[5] }
    }

    /// Returns the map that does this one first, then the other.
    pub(super) fn then(self, next: Self) -> Self {
        Self {
            a: self.a * next.a + self.b * next.c,
            b: self.a * next.b + self.b * next.d,
            c: self.c * next.a + self.d * next.c,
            d: self.c * next.b + self.d * next.d,
            e: self.e * next.a + self.f * next.c + next.e,
            f: self.e * next.b + self.f * next.d + next.f,
        }
    }

    /// Returns where a point goes.
    pub(super) fn at(self, x: f32, y: f32) -> (f32, f32) {
        (self.a * x + self.c * y + self.e, self.b * x + self.d * y + self.f)
    }

    /// Returns the map that moves by that much, in the coordinates before this one.
    pub(super) fn moved(self, x: f32, y: f32) -> Self {
        let (e, f) = self.at(x, y);
        Self { e, f, ..self }
    }
}
