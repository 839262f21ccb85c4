//! Bytes of the journal: framed records, and the entries inside them.
//!
//! A frame is length (u32), checksum (u32) and payload, little endian. The
//! checksum covers the length too, so that a tail of zeros is no record.

use crate::error::StoreError;

/// Length of the part of a frame before its payload.
pub(crate) const FRAME_HEAD_BYTES: usize = 8;

/// One remembered evaluation.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// The design: one index per open variable.
    pub key: Vec<u32>,
    /// Tag of the fidelity it was evaluated at.
    pub fidelity: u8,
    /// The outcome, in the bytes of whoever evaluates.
    pub payload: Vec<u8>,
}

impl Entry {
    /// Payload of a frame: key length (u32), key (u32 each), fidelity (u8), rest.
    pub(crate) fn to_bytes(&self) -> Result<Vec<u8>, StoreError> {
        let mut bytes = Vec::with_capacity(5 + 4 * self.key.len() + self.payload.len());
        bytes.extend(length_u32(self.key.len())?.to_le_bytes());
        for index in &self.key {
            bytes.extend(index.to_le_bytes());
        }
        bytes.push(self.fidelity);
        bytes.extend(&self.payload);
        Ok(bytes)
    }

    /// The entry in a frame's payload, or nothing if the lengths do not agree.
    pub(crate) fn from_bytes(bytes: &[u8]) -> Option<Self> {
        let (count, rest) = split_u32(bytes)?;
        let key_bytes = (count as usize).checked_mul(4)?;
        let (key, rest) = rest.split_at_checked(key_bytes)?;
        let (fidelity, payload) = rest.split_first()?;
        Some(Self {
            key: key.chunks_exact(4).filter_map(read_u32).collect(),
            fidelity: *fidelity,
            payload: payload.to_vec(),
        })
    }
}

/// Appends `payload` to `bytes` as one frame.
pub(crate) fn push_frame(bytes: &mut Vec<u8>, payload: &[u8]) -> Result<(), StoreError> {
    let length = length_u32(payload.len())?.to_le_bytes();
    bytes.extend(length);
    bytes.extend(checksum(length, payload).to_le_bytes());
    bytes.extend(payload);
    Ok(())
}

/// The payload of the first frame of `bytes` and what follows it, or nothing if
/// the frame is cut short or damaged.
pub(crate) fn split_frame(bytes: &[u8]) -> Option<(&[u8], &[u8])> {
    let (head, rest) = bytes.split_at_checked(FRAME_HEAD_BYTES)?;
    let (length, sum) = split_u32(head)?;
    let (payload, rest) = rest.split_at_checked(length as usize)?;
    (checksum(length.to_le_bytes(), payload) == read_u32(sum)?).then_some((payload, rest))
}

/// Splits a little-endian u32 off the front.
pub(crate) fn split_u32(bytes: &[u8]) -> Option<(u32, &[u8])> {
    let (head, rest) = bytes.split_first_chunk::<4>()?;
    Some((u32::from_le_bytes(*head), rest))
}

fn read_u32(bytes: &[u8]) -> Option<u32> {
    split_u32(bytes).map(|(value, _)| value)
}

fn length_u32(length: usize) -> Result<u32, StoreError> {
    u32::try_from(length).map_err(|_| StoreError::TooLong {
        bytes: length as u64,
    })
}

fn checksum(length: [u8; 4], payload: &[u8]) -> u32 {
    let mut hasher = crc32fast::Hasher::new();
    hasher.update(&length);
    hasher.update(payload);
    hasher.finalize()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn an_entry_comes_back_from_its_bytes(
            key in prop::collection::vec(any::<u32>(), 0..20),
            fidelity in any::<u8>(),
            payload in prop::collection::vec(any::<u8>(), 0..60),
        ) {
            let entry = Entry { key, fidelity, payload };
            prop_assert_eq!(Entry::from_bytes(&entry.to_bytes().unwrap()), Some(entry));
        }

        #[test]
        fn any_bytes_are_read_without_panic(bytes in prop::collection::vec(any::<u8>(), 0..80)) {
            let _ = Entry::from_bytes(&bytes);
            let _ = split_frame(&bytes);
        }
    }

    #[test]
    fn zeros_are_no_frame() {
        assert_eq!(split_frame(&[0; 64]), None);
    }

    /// CRC-32 of "123456789" is CBF43926 (the usual check value of this
    /// checksum, from memory): the frame's sum must be of that kind.
    #[test]
    fn the_checksum_is_the_usual_crc_32() {
        assert_eq!(checksum(*b"1234", b"56789"), 0xCBF4_3926);
    }
}
