//! How much time a picture may take.

use super::set::Grain;

/// How much time a picture may take.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Quality {
    /// One frame with hard-edged light, to check a composition.
    Draft,
    /// Smooth edges and soft shadows.
    #[default]
    Good,
    /// The same with fewer lamps, for one of many pictures that are shown or printed small.
    Small,
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
    /// Whether the shadow on the table is softened afterwards.
    pub softens: bool,
    /// Width of a shadow map, px (a power of two).
    pub shadow_map: usize,
    /// How finely bodies are seen, and how finely they throw shadows.
    pub grains: (Grain, Grain),
    /// Whether depth is drawn first, so that only what is seen is lit: twice the bodies for far fewer places.
    pub depth_first: bool,
}

impl Quality {
    pub(super) fn plan(self) -> Plan {
        match self {
            Self::Draft => {
                Plan { frames: 1, lamps: [2, 2, 6], samples: 4, blurs: true, shadow_map: 512, ..Plan::STILL }
            }
            Self::Good => Plan { frames: 7, ..Plan::STILL },
            Self::Small => Plan { frames: 4, lamps: [3, 1, 5], shadow_map: 512, ..Plan::STILL },
            // Two frames of one sample, not one of four: a processor that imitates a graphics card shades the many small
            // triangles of a cake once for every sample that they cover.
            Self::Turning => {
                let grains = (Grain::Small, Grain::Small);
                Plan { frames: 2, lamps: [1, 1, 3], blurs: true, shadow_map: 256, grains, ..Plan::STILL }
            }
            Self::Best => {
                let grains = (Grain::Fine, Grain::Fine);
                Plan { frames: 64, softens: false, shadow_map: 2048, grains, ..Plan::STILL }
            }
        }
    }
}

impl Plan {
    /// What most stills have in common.
    const STILL: Self = Self {
        frames: 1,
        lamps: [3, 1, 6],
        samples: 1,
        blurs: false,
        softens: true,
        shadow_map: 1024,
        grains: (Grain::Fine, Grain::Shadow),
        depth_first: true,
    };

    /// For a picture that is drawn anew while somebody moves something, of so many bodies; on a processor that imitates a graphics
    /// card it is as little as still reads as the same cake.
    pub(super) const fn moving(is_soft: bool, bodies: usize) -> Self {
        if is_soft {
            return Self { lamps: [1, 1, 1], shadow_map: 512, grains: (Grain::Small, Grain::Small), ..Self::STILL };
        }
        let lamps = if bodies > MANY { [1, 1, 1] } else { [1, 1, 3] };
        Self { lamps, samples: 4, blurs: true, grains: (Grain::Fine, Grain::Fine), depth_first: false, ..Self::STILL }
    }
}

/// Of more bodies than this a lamp costs more than it is worth while something moves: each lists all of them anew.
const MANY: usize = 1500;
