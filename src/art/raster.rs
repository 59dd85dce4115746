//! Reading pictures made of pixels. The size a file claims is checked before a single pixel is decoded.

use std::io::{Cursor, ErrorKind};

use image::{DynamicImage, ImageDecoder, ImageError, ImageFormat, ImageReader, Limits};

use super::error::{ArtError, Fault};
use super::picture::Picture;

/// Most pixels a side of a picture may have.
pub const MAX_SIDE: u32 = 20_000;
/// Most pixels a picture may have.
pub const MAX_PIXELS: u64 = 100_000_000;
/// Most memory that decoding one picture may take: sixteen bits a channel at the greatest size.
const MAX_BYTES: u64 = MAX_PIXELS * 8;

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
    let kind = Kind::sniff(bytes).ok_or_else(|| Fault::NotAPicture.of(name))?;
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
    limits.max_alloc = Some(MAX_BYTES);
    let mut reader = ImageReader::with_format(Cursor::new(bytes), format);
    reader.limits(limits);
    let mut decoder = reader.into_decoder().map_err(|error| fault(kind, &error))?;
    let (width, height) = decoder.dimensions();
    let pixels = u64::from(width) * u64::from(height);
    if width > MAX_SIDE || height > MAX_SIDE || pixels > MAX_PIXELS || decoder.total_bytes() > MAX_BYTES {
        return Err(Fault::TooManyPixels { width, height });
    }
    let orientation = decoder.orientation().map_err(|error| fault(kind, &error))?;
    let mut image = DynamicImage::from_decoder(decoder).map_err(|error| fault(kind, &error))?;
    image.apply_orientation(orientation);
    let image = image.into_rgba8();
    Ok(Picture { width: image.width(), height: image.height(), rgba: image.into_raw() })
}

fn fault(kind: Kind, error: &ImageError) -> Fault {
    match error {
        ImageError::IoError(error) if error.kind() == ErrorKind::UnexpectedEof => Fault::CutOff { kind: kind.word() },
        ImageError::Limits(_) => {
            Fault::TooMuch { what: "decoding it takes more memory than any picture may".to_owned() }
        }
        _ => Fault::Damaged { kind: kind.word(), reason: error.to_string() },
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
    // No scan at all: the decoder says what is missing.
    at < bytes.len()
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
        for bytes in [&b"GIF89a"[..], b"<svg/>", b"hello", b"\0\0\0", b"\xff", b"RIFF....WEBP"] {
            assert_eq!(read_raster(bytes, "art/a.png").unwrap_err().fault, Fault::NotAPicture);
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
        for (width, height) in [(100_000, 100_000), (20_001, 1), (1, 20_001), (20_000, 20_000), (u32::MAX >> 1, 2)] {
            let start = std::time::Instant::now();
            let error = read_raster(&bomb(width, height), "bomb.png").unwrap_err();
            let refused = matches!(error.fault, Fault::TooManyPixels { .. } | Fault::TooMuch { .. });
            assert!(refused, "{error}");
            assert!(start.elapsed().as_millis() < 100);
        }
        // A JPEG whose frame header claims 65,500 × 65,500.
        let mut jpeg = encode_jpeg(&shaded(), 90).unwrap();
        let frame = jpeg.windows(2).position(|pair| pair == [0xff, 0xc0]).unwrap();
        jpeg[frame + 5..frame + 9].copy_from_slice(&[0xff, 0xdc, 0xff, 0xdc]);
        let error = read_raster(&jpeg, "bomb.jpg").unwrap_err();
        assert_eq!(error.fault, Fault::TooManyPixels { width: 65_500, height: 65_500 });
    }

    #[test]
    fn a_camera_turned_on_its_side_is_turned_back() {
        let plain = encode_jpeg(&shaded(), 95).unwrap();
        // An EXIF segment with the one entry orientation = 6: turn a quarter clockwise to see it upright (Exif 2.32).
        let tiff = b"II*\0\x08\0\0\0\x01\0\x12\x01\x03\0\x01\0\0\0\x06\0\0\0\0\0\0\0";
        let length = u16::try_from(2 + 6 + tiff.len()).unwrap().to_be_bytes();
        let turned = [&plain[..2], &[0xff, 0xe1], &length, b"Exif\0\0", tiff, &plain[2..]].concat();
        let (plain, turned) = (read_raster(&plain, "a").unwrap(), read_raster(&turned, "a").unwrap());
        assert_eq!((turned.width, turned.height), (16, 24));
        // The lower left corner comes to the upper left.
        assert_eq!(turned.pixel(0, 0), plain.pixel(0, 15));
        assert_eq!(turned.pixel(15, 0), plain.pixel(0, 0));
    }
}
