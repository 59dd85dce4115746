//! Pictures as the bytes of a file.

use image::codecs::jpeg::JpegEncoder;
use image::codecs::png::{CompressionType, FilterType, PngEncoder};
use image::{ExtendedColorType, ImageEncoder, ImageError};

use super::Picture;

/// Why a picture could not be written as a file.
#[derive(Debug, thiserror::Error)]
#[error("a picture of {width} × {height} px could not be encoded: {reason}")]
pub struct EncodeError {
    /// Columns.
    width: u32,
    /// Rows.
    height: u32,
    /// What the encoder said.
    reason: String,
}

/// The picture as a PNG, transparency kept; as RGB when it has none. The same picture gives the same bytes.
///
/// # Errors
/// A picture whose bytes don't match its size, or one larger than PNG allows.
pub fn encode_png(picture: &Picture) -> Result<Vec<u8>, EncodeError> {
    let mut bytes = Vec::new();
    // One filter and quick packing: a still is written in a tenth of the time, with a fifth more bytes.
    let encoder = PngEncoder::new_with_quality(&mut bytes, CompressionType::Fast, FilterType::Paeth);
    let written = if opaque(picture) {
        write(encoder, picture, (&without_alpha(picture), ExtendedColorType::Rgb8))
    } else {
        write(encoder, picture, (&picture.rgba, ExtendedColorType::Rgba8))
    };
    written?;
    // Right after the header: the signature is 8 bytes long, the header with its frame 25.
    bytes.splice(33..33, SRGB);
    Ok(bytes)
}

/// The picture as a PNG that says how many of its pixels go to an inch.
///
/// # Errors
/// As [`encode_png`].
pub fn encode_png_at(picture: &Picture, ppi: u32) -> Result<Vec<u8>, EncodeError> {
    let mut bytes = encode_png(picture)?;
    let after = 33 + SRGB.len();
    bytes.splice(after..after, physical_size(ppi));
    Ok(bytes)
}

/// A PNG chunk with the pixels to the metre in both directions (ISO/IEC 15948, 11.3.5.3): length, name, x, y, unit, check
/// sum.
fn physical_size(ppi: u32) -> Vec<u8> {
    let per_metre = (f64::from(ppi) / 0.0254).round() as u32;
    let named = [&b"pHYs"[..], &per_metre.to_be_bytes(), &per_metre.to_be_bytes(), &[1]].concat();
    [&9_u32.to_be_bytes()[..], &named, &crc(&named).to_be_bytes()].concat()
}

/// CRC-32 of a chunk's name and data (ISO/IEC 15948, annex D).
fn crc(bytes: &[u8]) -> u32 {
    let bit = |crc: u32| if crc & 1 == 1 { crc >> 1 ^ 0xedb8_8320 } else { crc >> 1 };
    !bytes.iter().fold(u32::MAX, |crc, byte| (0..8).fold(crc ^ u32::from(*byte), |crc, _| bit(crc)))
}

/// A PNG chunk that says: these colours are sRGB, to be shown as they look best (ISO/IEC 15948, 11.3.3.5): length,
/// name, intent 0, check sum.
const SRGB: [u8; 13] = [0, 0, 0, 1, b's', b'R', b'G', b'B', 0, 0xae, 0xce, 0x1c, 0xe9];

/// The picture as a JPEG of `quality` 1..100, for photographs of the cake; transparency is dropped.
///
/// # Errors
/// A picture whose bytes don't match its size, or one larger than JPEG's 65,535 px.
pub fn encode_jpeg(picture: &Picture, quality: u8) -> Result<Vec<u8>, EncodeError> {
    let mut bytes = Vec::new();
    let encoder = JpegEncoder::new_with_quality(&mut bytes, quality);
    write(encoder, picture, (&without_alpha(picture), ExtendedColorType::Rgb8)).map(|()| bytes)
}

fn write(
    encoder: impl ImageEncoder,
    picture: &Picture,
    (bytes, colours): (&[u8], ExtendedColorType),
) -> Result<(), EncodeError> {
    let (width, height) = (picture.width, picture.height);
    let failed = |reason: String| EncodeError { width, height, reason };
    // The encoder panics where the bytes don't fill the picture.
    let expected = u64::from(width) * u64::from(height) * u64::from(colours.channel_count());
    if bytes.len() as u64 != expected || expected == 0 {
        return Err(failed(format!("it holds {} bytes instead of {expected}", bytes.len())));
    }
    encoder.write_image(bytes, width, height, colours).map_err(|error: ImageError| failed(error.to_string()))
}

fn opaque(picture: &Picture) -> bool {
    picture.rgba.chunks_exact(4).all(|pixel| pixel.last() == Some(&u8::MAX))
}

fn without_alpha(picture: &Picture) -> Vec<u8> {
    picture.rgba.chunks_exact(4).filter_map(|pixel| pixel.first_chunk::<3>()).flatten().copied().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_png_keeps_every_pixel() {
        let mut picture = Picture::filled(3, 2, [200, 100, 50, 255]);
        for alpha in [255, 128] {
            picture.rgba[3] = alpha;
            let read = image::load_from_memory(&encode_png(&picture).unwrap()).unwrap().to_rgba8();
            assert_eq!((read.dimensions(), read.into_raw()), ((3, 2), picture.rgba.clone()));
        }
    }

    #[test]
    fn a_png_says_that_it_is_srgb() {
        let png = encode_png(&Picture::filled(3, 2, [200, 100, 50, 255])).unwrap();
        assert_eq!((&png[12..16], &png[33..46]), (&b"IHDR"[..], &SRGB[..]));
        // CRC-32 of name and intent, as any zlib gives it.
        assert_eq!(png[42..46], 0xaece_1ce9_u32.to_be_bytes());
    }

    #[test]
    fn a_png_says_how_large_it_is_printed() {
        let png = encode_png_at(&Picture::filled(3, 2, [200, 100, 50, 255]), 300).unwrap();
        assert_eq!((&png[50..54], &png[62..63]), (&b"pHYs"[..], &[1][..]));
        // 300 / 0.0254, rounded.
        assert_eq!(png[54..58], 11_811_u32.to_be_bytes());
        assert_eq!(crc(&SRGB[4..9]).to_be_bytes(), SRGB[9..]);
        assert_eq!(image::load_from_memory(&png).unwrap().to_rgba8().dimensions(), (3, 2));
    }

    #[test]
    fn a_picture_with_missing_bytes_is_refused() {
        let torn = Picture { width: 3, height: 2, rgba: vec![0; 8] };
        assert!(encode_png(&torn).unwrap_err().to_string().contains("8 bytes"));
        assert!(encode_jpeg(&torn, 90).is_err());
    }
}
