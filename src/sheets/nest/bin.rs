//! One sheet being filled: its free rectangles, each as large as it can be (MaxRects: J. Jylänki, "A Thousand Ways to Pack
//! the Bin", 2010). Micrometres, y down.

use super::Item;

/// A rectangle, µm.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Rect {
    /// Left edge.
    pub x: i64,
    /// Upper edge.
    pub y: i64,
    /// Width.
    pub width: i64,
    /// Height.
    pub height: i64,
}

impl Rect {
    pub(super) const fn area(self) -> i64 {
        self.width * self.height
    }

    const fn right(self) -> i64 {
        self.x + self.width
    }

    const fn foot(self) -> i64 {
        self.y + self.height
    }

    /// Whether the two share more than an edge.
    #[must_use]
    pub const fn meets(self, other: Self) -> bool {
        self.x < other.right() && other.x < self.right() && self.y < other.foot() && other.y < self.foot()
    }

    /// How much of it the other covers.
    pub(super) fn shared(self, other: Self) -> i64 {
        let across = self.right().min(other.right()) - self.x.max(other.x);
        let down = self.foot().min(other.foot()) - self.y.max(other.y);
        across.max(0) * down.max(0)
    }

    /// Whether the other lies wholly inside.
    #[must_use]
    pub const fn holds(self, other: Self) -> bool {
        self.x <= other.x && self.y <= other.y && other.right() <= self.right() && other.foot() <= self.foot()
    }

    /// What is left of it beside another that it meets: up to four rectangles, which overlap.
    fn beside(self, other: Self) -> impl Iterator<Item = Self> {
        let left = Self { width: other.x - self.x, ..self };
        let above = Self { height: other.y - self.y, ..self };
        let right = Self { x: other.right(), width: self.right() - other.right(), ..self };
        let below = Self { y: other.foot(), height: self.foot() - other.foot(), ..self };
        [left, above, right, below].into_iter().filter(|rest| rest.width > 0 && rest.height > 0)
    }

    /// How much of its edge lies on the other's edge.
    fn touches(self, other: Self) -> i64 {
        let shared = |(a, b): (i64, i64), (c, d): (i64, i64)| (b.min(d) - a.max(c)).max(0);
        let beside = self.x == other.right() || other.x == self.right();
        let stacked = self.y == other.foot() || other.y == self.foot();
        let across = shared((self.y, self.foot()), (other.y, other.foot()));
        let along = shared((self.x, self.right()), (other.x, other.right()));
        if beside {
            across
        } else if stacked {
            along
        } else {
            0
        }
    }
}

/// What makes a place good.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Liking {
    /// The free rectangle's shorter rest is least.
    ShortSide,
    /// Its longer rest is least.
    LongSide,
    /// Its area is least.
    Area,
    /// It lies highest, then furthest left.
    Corner,
    /// It touches most.
    Contact,
}

impl Liking {
    pub(super) const ALL: [Self; 5] = [Self::ShortSide, Self::Area, Self::Contact, Self::Corner, Self::LongSide];
}

/// How good a place is; less is better.
pub(super) type Score = (i64, i64);

/// A place that an item could take.
#[derive(Clone, Copy, Debug)]
pub(super) struct Offer {
    pub score: Score,
    pub at: Rect,
    pub turned: bool,
}

/// A sheet being filled.
#[derive(Clone, Debug)]
pub(super) struct Bin {
    whole: Rect,
    free: Vec<Rect>,
    /// What lies on it, by the item's number.
    pub taken: Vec<(usize, Rect, bool)>,
}

impl Bin {
    /// An empty sheet, of which some may be reserved.
    pub fn new([width, height]: [i64; 2], reserved: Option<Rect>) -> Self {
        let whole = Rect { x: 0, y: 0, width, height };
        let mut bin = Self { whole, free: vec![whole], taken: Vec::new() };
        if let Some(reserved) = reserved {
            bin.cover(reserved);
        }
        bin
    }

    /// Area of what lies on it.
    pub fn used(&self) -> i64 {
        self.taken.iter().map(|(_, at, _)| at.area()).sum()
    }

    /// The best place for an item, and how many places were looked at.
    pub fn best(&self, item: &Item, liking: Liking) -> (Option<Offer>, u64) {
        let mut best: Option<Offer> = None;
        for free in &self.free {
            for (width, height, turned) in item.ways() {
                if width > free.width || height > free.height {
                    continue;
                }
                let at = Rect { width, height, ..*free };
                let offer = Offer { score: self.score(*free, at, liking), at, turned };
                if best.is_none_or(|best| (offer.score, at.y, at.x) < (best.score, best.at.y, best.at.x)) {
                    best = Some(offer);
                }
            }
        }
        (best, self.free.len() as u64)
    }

    fn score(&self, free: Rect, at: Rect, liking: Liking) -> Score {
        let (across, down) = (free.width - at.width, free.height - at.height);
        let (short, long) = (across.min(down), across.max(down));
        match liking {
            Liking::ShortSide => (short, long),
            Liking::LongSide => (long, short),
            Liking::Area => (free.area() - at.area(), short),
            Liking::Corner => (at.foot(), at.x),
            Liking::Contact => (-self.contact(at), short),
        }
    }

    fn contact(&self, at: Rect) -> i64 {
        let edge = |on: bool, length: i64| if on { length } else { 0 };
        let border = edge(at.x == 0, at.height)
            + edge(at.y == 0, at.width)
            + edge(at.right() == self.whole.width, at.height)
            + edge(at.foot() == self.whole.height, at.width);
        border + self.taken.iter().map(|(_, other, _)| at.touches(*other)).sum::<i64>()
    }

    /// Lays an item down.
    pub fn take(&mut self, item: usize, offer: &Offer) {
        self.cover(offer.at);
        self.taken.push((item, offer.at, offer.turned));
    }

    /// Makes a place no longer free.
    pub fn cover(&mut self, at: Rect) {
        let (hit, mut kept): (Vec<Rect>, Vec<Rect>) = self.free.iter().partition(|free| free.meets(at));
        let mut fresh: Vec<Rect> = hit.into_iter().flat_map(|free| free.beside(at)).collect();
        // The largest first: none that is kept lies in one that follows.
        fresh.sort_by(|a, b| b.area().cmp(&a.area()).then(a.cmp(b)));
        for rest in fresh {
            if !kept.iter().any(|other| other.holds(rest)) {
                kept.push(rest);
            }
        }
        self.free = kept;
    }
}
