//! A walk through a structure in the compact encoding of Apache Thrift that makes no room for it.

/// Deepest nesting followed.
const DEEPEST: usize = 24;

/// A walk: what is left, and by which fields it got there.
pub(crate) struct Walk<'a> {
    rest: &'a [u8],
    path: Vec<i16>,
    is_sound: &'a dyn Fn(&[i16], i64) -> bool,
}

impl<'a> Walk<'a> {
    /// Walks through one structure and says how many bytes it takes. `is_sound` judges every whole
    /// number by the numbers of the fields that lead to it; lists add none. None where one is
    /// unsound, bytes run out, or a list or text is longer than the bytes left.
    pub(crate) fn through(
        bytes: &'a [u8],
        is_sound: &'a dyn Fn(&[i16], i64) -> bool,
    ) -> Option<usize> {
        let mut walk = Self {
            rest: bytes,
            path: Vec::new(),
            is_sound,
        };
        walk.structure(0)?;
        Some(bytes.len() - walk.rest.len())
    }

    fn structure(&mut self, depth: usize) -> Option<()> {
        if depth > DEEPEST {
            return None;
        }
        let mut field = 0_i16;
        loop {
            let head = self.byte()?;
            if head == 0 {
                return Some(());
            }
            let step = i16::from(head >> 4);
            field = match step {
                0 => i16::try_from(self.signed()?).ok()?,
                _ => field.checked_add(step)?,
            };
            self.path.push(field);
            // The type of a truth is its value.
            if !matches!(head & 15, 1 | 2) {
                self.value(head & 15, depth)?;
            }
            self.path.pop();
        }
    }

    fn value(&mut self, kind: u8, depth: usize) -> Option<()> {
        match kind {
            1..=3 => self.skip(1),
            4..=6 => {
                let value = self.signed()?;
                (self.is_sound)(&self.path, value).then_some(())
            }
            7 => self.skip(8),
            8 => {
                let length = self.unsigned()?;
                self.skip(length)
            }
            9 | 10 => self.list(depth),
            12 => self.structure(depth + 1),
            // Maps and the like stand nowhere in Parquet.
            _ => None,
        }
    }

    fn list(&mut self, depth: usize) -> Option<()> {
        let head = self.byte()?;
        let length = match head >> 4 {
            15 => self.unsigned()?,
            short => u64::from(short),
        };
        if length > self.rest.len() as u64 || depth > DEEPEST {
            return None;
        }
        (0..length).try_for_each(|_| self.value(head & 15, depth + 1))
    }

    fn byte(&mut self) -> Option<u8> {
        let (first, rest) = self.rest.split_first()?;
        self.rest = rest;
        Some(*first)
    }

    fn skip(&mut self, length: u64) -> Option<()> {
        self.rest = self.rest.get(usize::try_from(length).ok()?..)?;
        Some(())
    }

    /// Seven bits a byte, the lowest first.
    fn unsigned(&mut self) -> Option<u64> {
        let mut value = 0_u64;
        for place in 0..10 {
            let byte = self.byte()?;
            value |= u64::from(byte & 127).checked_shl(7 * place)?;
            if byte < 128 {
                return Some(value);
            }
        }
        None
    }

    /// Whole numbers with their sign in the lowest bit.
    fn signed(&mut self) -> Option<i64> {
        let value = self.unsigned()?;
        Some((value >> 1) as i64 ^ -((value & 1) as i64))
    }
}
