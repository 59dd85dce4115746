//! How much time a picture may take.

/// How much time a picture may take.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Quality {
    /// One frame with hard-edged light, to check a composition.
    Draft,
    /// Smooth edges and soft shadows.
    #[default]
    Good,
    /// Nearly as good in less than half the time: one of many pictures on a turntable.
    Turning,
    /// As good as it gets, for the proof's large picture.
    Best,
}

/// How a quality is reached.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Plan {
    /// Frames that are averaged.
    pub frames: u32,
    /// Lamps of each frame: in the key light, in the fill, in the room.
    pub lamps: [u32; 3],
    /// Samples within a pixel in each frame: 1 or 4.
    pub samples: u32,
    /// Width of a shadow map, px (a power of two).
    pub shadow_map: usize,
}

impl Quality {
    pub(super) fn plan(self) -> Plan {
        match self {
            Self::Draft => Plan { frames: 1, lamps: [2, 2, 6], samples: 4, shadow_map: 512 },
            Self::Good => Plan { frames: 5, lamps: [3, 1, 6], samples: 1, shadow_map: 1024 },
            Self::Turning => Plan { frames: 2, ..Self::Good.plan() },
            Self::Best => Plan { frames: 64, lamps: [3, 1, 6], samples: 1, shadow_map: 2048 },
        }
    }
}

impl Plan {
    /// Whether the same lamps and lens serve for another plan: only the number of frames differs.
    pub(super) fn serves(self, other: Self) -> bool {
        (self.frames > 1) == (other.frames > 1) && Self { frames: other.frames, ..self } == other
    }
}
