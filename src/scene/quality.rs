//! How much time a picture may take.

/// How much time a picture may take.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Quality {
    /// One frame with hard-edged light, to check a composition.
    Draft,
    /// Smooth edges and soft shadows.
    #[default]
    Good,
    /// Few lamps, blurred: one of many pictures on a turntable.
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
    /// Whether the edges of shadows are blurred within a frame; over several frames the lamps do that.
    pub blurs: bool,
    /// Width of a shadow map, px (a power of two).
    pub shadow_map: usize,
}

impl Quality {
    pub(super) fn plan(self) -> Plan {
        match self {
            Self::Draft => Plan { frames: 1, lamps: [2, 2, 6], samples: 4, blurs: true, shadow_map: 512 },
            Self::Good => Plan { frames: 5, lamps: [3, 1, 6], samples: 1, blurs: false, shadow_map: 1024 },
            // Two frames of one sample, not one of four: a processor that imitates a graphics card shades the many small
            // triangles of a cake once for every sample that they cover.
            Self::Turning => Plan { frames: 2, lamps: [1, 1, 3], samples: 1, blurs: true, shadow_map: 512 },
            Self::Best => Plan { frames: 64, lamps: [3, 1, 6], samples: 1, blurs: false, shadow_map: 2048 },
        }
    }
}

impl Plan {
    /// For a picture that is drawn anew while somebody moves something, on a graphics card.
    pub(super) const MOVING: Self = Self { frames: 1, lamps: [1, 1, 3], samples: 4, blurs: true, shadow_map: 1024 };

    /// The same on a processor that imitates a graphics card: as little as still reads as the same cake.
    pub(super) const MOVING_SOFTLY: Self =
        Self { frames: 1, lamps: [1, 1, 1], samples: 1, blurs: false, shadow_map: 512 };
}
