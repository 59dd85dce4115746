//! Reading pictures made of pixels. The size a file claims is checked before a single pixel is decoded.

use std::io::{Cursor, ErrorKind};

use image::{ColorType, DynamicImage, ImageDecoder, ImageError, ImageFormat, ImageReader, Limits, RgbaImage};

use super::error::{ArtError, Fault};
use super::picture::Picture;

/// Most pixels a side of a picture may have: as many as a JPEG can say.
pub const MAX_SIDE: u32 = 65_535;
/// Most pixels a picture may have.
pub const MAX_PIXELS: u64 = 100_000_000;
/// Most memory that the pixels of one picture may take while it is decoded: sixteen bits a channel at the greatest size.
const MAX_BYTES: u64 = MAX_PIXELS * 8;

/// Most memory that what a picture carries beside its pixels may take.
const MAX_NOTES: u64 = 16 << 20;

/// What a file is, told by its first bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    Png,
    Jpeg,
}

impl Kind {
    /// PNG by its signature (ISO/IEC 15948, 5.2), JPEG by its first marker (ISO/IEC 10918-1, B.2.1).
    pub(super) fn sniff(bytes: &[u8]) -> Option<Self> {
        if bytes.starts_with(b"\x89PNG") {
            return Some(Self::Png);
        }
        bytes.starts_with(&[0xff, 0xd8, 0xff]).then_some(Self::Jpeg)
    }

    /// The fault of a file that is neither, by the first bytes of kinds that people send for art.
    pub(super) fn foreign(bytes: &[u8]) -> Fault {
        if [b"wOFF", b"wOF2"].iter().any(|mark| bytes.starts_with(*mark)) {
            return Fault::WebFont;
        }
        let (riff, boxed) = (bytes.starts_with(b"RIFF"), bytes.get(4..8) == Some(b"ftyp"));
        let brand = bytes.get(8..12).unwrap_or_default();
        let known: [(bool, &'static str); 10] = [
            (bytes.starts_with(b"GIF8"), "a GIF"),
            (riff && brand == b"WEBP", "a WebP picture"),
            (boxed && brand == b"avif", "an AVIF picture"),
            (boxed, "a phone's HEIC picture or a film"),
            (bytes.starts_with(b"BM"), "a BMP picture"),
            (bytes.starts_with(b"II*\0") || bytes.starts_with(b"MM\0*"), "a TIFF or a camera's raw picture"),
            (bytes.starts_with(b"8BPS"), "a layered PSD picture"),
            (bytes.starts_with(b"%PDF"), "a PDF"),
            (bytes.starts_with(b"%!PS"), "an EPS drawing"),
            (bytes.starts_with(b"PK\x03\x04"), "a zip archive"),
        ];
        let kind = known.into_iter().find(|(is, _)| *is);
        kind.map_or(Fault::NotAPicture, |(_, what)| Fault::OtherKind { what })
    }

    const fn word(self) -> &'static str {
        match self {
            Self::Png => "PNG",
            Self::Jpeg => "JPEG",
        }
    }
}

/// Reads a PNG or a JPEG, told apart by its contents. A camera's note of which way is up (EXIF) is followed.
///
/// # Errors
/// An empty, cut-off or damaged file, one of another kind, or one with more pixels than [`MAX_SIDE`] and [`MAX_PIXELS`]
/// allow. `name` is what the message calls the file.
pub fn read_raster(bytes: &[u8], name: &str) -> Result<Picture, ArtError> {
    if bytes.is_empty() {
        return Err(Fault::Empty.of(name));
    }
    let kind = Kind::sniff(bytes).ok_or_else(|| Kind::foreign(bytes).of(name))?;
    decode(bytes, kind).map_err(|fault| fault.of(name))
}

fn decode(bytes: &[u8], kind: Kind) -> Result<Picture, Fault> {
    let format = match kind {
        Kind::Png => ImageFormat::Png,
        Kind::Jpeg => ImageFormat::Jpeg,
    };
    // The decoder fills in what a JPEG lacks with grey and says nothing.
    if kind == Kind::Jpeg && !jpeg_ends(bytes) {
        return Err(Fault::CutOff { kind: kind.word() });
    }
    let mut limits = Limits::default();
    // A profile or a note packed into the file may unfold into anything; the pixels are told from the header.
    let pixels = claimed_pixels(bytes, kind).unwrap_or(MAX_PIXELS);
    limits.max_alloc = Some((pixels.saturating_mul(8)).min(MAX_BYTES) + MAX_NOTES);
    let mut reader = ImageReader::with_format(Cursor::new(bytes), format);
    reader.limits(limits);
    let mut decoder = reader.into_decoder().map_err(|error| fault(kind, &error))?;
    let (width, height) = decoder.dimensions();
    let pixels = u64::from(width) * u64::from(height);
    if width > MAX_SIDE || height > MAX_SIDE || pixels > MAX_PIXELS || decoder.total_bytes() > MAX_BYTES {
        return Err(Fault::TooManyPixels { width, height });
    }
    let orientation = decoder.orientation().map_err(|error| fault(kind, &error))?;
    let rgba = straight(decoder, pixels as usize).map_err(|error| fault(kind, &error))?;
    let image = RgbaImage::from_raw(width, height, rgba).ok_or(Fault::CutOff { kind: kind.word() })?;
    let mut image = DynamicImage::ImageRgba8(image);
    image.apply_orientation(orientation);
    let image = image.into_rgba8();
    Ok(Picture { width: image.width(), height: image.height(), rgba: image.into_raw() })
}

/// How many pixels a PNG's header claims: its width and height follow the header's name (ISO/IEC 15948, 11.2.2).
fn claimed_pixels(bytes: &[u8], kind: Kind) -> Option<u64> {
    let side = |at: usize| bytes.get(at..at + 4)?.try_into().ok().map(|side| u64::from(u32::from_be_bytes(side)));
    (kind == Kind::Png).then(|| Some(side(16)? * side(20)?)).flatten()
}

/// The decoded pixels as eight bits a channel with straight alpha, in the memory they were decoded into: a large picture
/// is never held twice.
fn straight(decoder: impl ImageDecoder, count: usize) -> Result<Vec<u8>, ImageError> {
    let colours = decoder.color_type();
    let each = usize::from(colours.bytes_per_pixel());
    let mut bytes = vec![0; count * each.max(4)];
    decoder.read_image(bytes.get_mut(..count * each).unwrap_or_default())?;
    let mut turn = |n: usize| {
        let pixel = bytes.get(n * each..(n + 1) * each).map(|samples| rgba(samples, colours)).unwrap_or_default();
        if let Some(place) = bytes.get_mut(n * 4..(n + 1) * 4) {
            place.copy_from_slice(&pixel);
        }
    };
    // Pixels that grow are moved from the last one on, so that none is written over before it was read.
    if each < 4 {
        (0..count).rev().for_each(&mut turn);
    } else {
        (0..count).for_each(&mut turn);
    }
    bytes.truncate(count * 4);
    bytes.shrink_to_fit();
    Ok(bytes)
}

/// One pixel's samples as eight-bit red, green, blue and alpha.
fn rgba(samples: &[u8], colours: ColorType) -> [u8; 4] {
    let wide = samples.len() > usize::from(colours.channel_count());
    let level = |channel: usize| {
        let sample = |at: usize| samples.get(at).copied().unwrap_or_default();
        if wide {
            // 65,535 is 257 times 255.
            let level = u32::from(u16::from_ne_bytes([sample(channel * 2), sample(channel * 2 + 1)]));
            u8::try_from((level + 128) / 257).unwrap_or(u8::MAX)
        } else {
            sample(channel)
        }
    };
    let [red, green, blue] = if colours.has_color() { [0, 1, 2] } else { [0; 3] }.map(level);
    let alpha = if colours.has_alpha() { level(usize::from(colours.channel_count()) - 1) } else { u8::MAX };
    [red, green, blue, alpha]
}

fn fault(kind: Kind, error: &ImageError) -> Fault {
    match error {
        ImageError::IoError(error) if error.kind() == ErrorKind::UnexpectedEof => Fault::CutOff { kind: kind.word() },
        ImageError::Limits(_) => {
            Fault::TooMuch { what: "what it carries unfolds into more memory than such a picture may take".to_owned() }
        }
        // Some readers speak in several lines.
        _ => Fault::Damaged {
            kind: kind.word(),
            reason: error.to_string().split_whitespace().collect::<Vec<_>>().join(" "),
        },
    }
}

/// Whether a JPEG has its end-of-image marker after the start of its scan. In the scan's data `FF` is always followed by
/// `00` or a restart marker (ISO/IEC 10918-1, B.1.1.5), so `FF D9` there can only be the end.
fn jpeg_ends(bytes: &[u8]) -> bool {
    let mut at = 2;
    while let Some(&[0xff, marker, high, low]) = bytes.get(at..at + 4) {
        match marker {
            // A fill byte.
            0xff => at += 1,
            0xda => return bytes.get(at..).is_some_and(|scan| scan.windows(2).any(|pair| pair == [0xff, 0xd9])),
            _ => at += 2 + usize::from(u16::from_be_bytes([high, low])),
        }
    }
    // No scan at all: it broke off before, or the decoder says what is wrong.
    at + 4 <= bytes.len()
}

#[cfg(test)]
mod tests {
    use super::super::{encode_jpeg, encode_png};
    use super::*;

    fn shaded() -> Picture {
        let pixel = |n: u32| [(n % 24 * 10) as u8, (n / 24 * 15) as u8, 90, 255];
        Picture { width: 24, height: 16, rgba: (0..24 * 16).flat_map(pixel).collect() }
    }

    #[test]
    fn png_and_jpeg_are_read_whatever_they_are_called() {
        let picture = shaded();
        assert_eq!(read_raster(&encode_png(&picture).unwrap(), "a.jpg").unwrap(), picture);
        let jpeg = read_raster(&encode_jpeg(&picture, 95).unwrap(), "a.png").unwrap();
        assert_eq!((jpeg.width, jpeg.height), (24, 16));
        let worst = jpeg.rgba.iter().zip(&picture.rgba).map(|(a, b)| a.abs_diff(*b)).max();
        assert!(worst < Some(30), "{worst:?}");
    }

    #[test]
    fn empty_and_foreign_files_are_refused() {
        assert_eq!(read_raster(b"", "art/a.png").unwrap_err().fault, Fault::Empty);
        for bytes in [&b"<svg/>"[..], b"hello", b"\0\0\0", b"\xff", b"RIFF....WAVE"] {
            assert_eq!(read_raster(bytes, "art/a.png").unwrap_err().fault, Fault::NotAPicture);
        }
        for (bytes, what) in
            [(&b"GIF89a"[..], "a GIF"), (b"RIFF....WEBP", "a WebP"), (b"\0\0\0\x18ftypheic", "a phone's HEIC")]
        {
            let message = read_raster(bytes, "art/a.png").unwrap_err().to_string();
            assert!(
                message.starts_with(&format!("art/a.png: this is {what}")) && message.contains("save"),
                "{message}"
            );
        }
        assert!(read_raster(b"", "art/a.png").unwrap_err().to_string().starts_with("art/a.png: the file is empty"));
    }

    #[test]
    fn a_file_cut_anywhere_is_refused_or_whole() {
        let picture = shaded();
        for file in [encode_png(&picture).unwrap(), encode_jpeg(&picture, 90).unwrap()] {
            let whole = read_raster(&file, "a").unwrap();
            for length in 0..file.len() {
                if let Ok(read) = read_raster(&file[..length], "a") {
                    assert_eq!(read, whole, "cut at {length} of {}", file.len());
                }
            }
            let error = read_raster(&file[..file.len() / 2], "a").unwrap_err();
            assert!(matches!(error.fault, Fault::CutOff { .. }), "{error}");
        }
    }

    #[test]
    fn a_changed_byte_never_panics() {
        let picture = shaded();
        for file in [encode_png(&picture).unwrap(), encode_jpeg(&picture, 90).unwrap()] {
            for at in 0..file.len() {
                let mut file = file.clone();
                file[at] ^= 0x55;
                let _ = read_raster(&file, "a");
            }
        }
    }

    /// A PNG of 1.2 kB that claims `width` × `height` pixels: header and data with right check sums.
    fn bomb(width: u32, height: u32) -> Vec<u8> {
        let mut file = encode_png(&Picture::filled(30, 30, [1, 2, 3, 255])).unwrap();
        file[16..20].copy_from_slice(&width.to_be_bytes());
        file[20..24].copy_from_slice(&height.to_be_bytes());
        // CRC-32 of the chunk (ISO/IEC 15948, annex D).
        let crc = file[12..29].iter().fold(u32::MAX, |crc, byte| {
            (0..8).fold(crc ^ u32::from(*byte), |crc, _| if crc & 1 == 1 { crc >> 1 ^ 0xedb8_8320 } else { crc >> 1 })
        });
        file[29..33].copy_from_slice(&(!crc).to_be_bytes());
        file
    }

    #[test]
    fn a_decompression_bomb_is_never_decoded() {
        for (width, height) in [(100_000, 100_000), (65_536, 1), (1, 65_536), (20_000, 20_000), (u32::MAX >> 1, 2)] {
            let error = read_raster(&bomb(width, height), "bomb.png").unwrap_err();
            let refused = matches!(error.fault, Fault::TooManyPixels { .. } | Fault::TooMuch { .. });
            assert!(refused, "{error}");
        }
        // A JPEG whose frame header claims 65,500 × 65,500.
        let mut jpeg = encode_jpeg(&shaded(), 90).unwrap();
        let frame = jpeg.windows(2).position(|pair| pair == [0xff, 0xc0]).unwrap();
        jpeg[frame + 5..frame + 9].copy_from_slice(&[0xff, 0xdc, 0xff, 0xdc]);
        let error = read_raster(&jpeg, "bomb.jpg").unwrap_err();
        assert_eq!(error.fault, Fault::TooManyPixels { width: 65_500, height: 65_500 });
    }
}
