//! Reads bytes from the left.

/// Reads bytes from the left.
pub(super) struct Cursor<'b> {
    pub bytes: &'b [u8],
    pub at: usize,
}

impl<'b> Cursor<'b> {
    pub fn peek(&self) -> Option<u8> {
        self.bytes.get(self.at).copied()
    }

    pub fn take(&mut self, wanted: u8) -> bool {
        let is = self.peek() == Some(wanted);
        self.at += usize::from(is);
        is
    }

    pub fn skip(&mut self, set: &[u8]) -> bool {
        let start = self.at;
        while self.peek().is_some_and(|b| set.contains(&b)) {
            self.at += 1;
        }
        self.at > start
    }

    /// A number of at most eight digits, and how many they were.
    pub fn number(&mut self) -> Option<(u32, usize)> {
        let start = self.at;
        let mut value = 0;
        while let Some(b @ b'0'..=b'9') = self.peek() {
            if self.at - start == 8 {
                return None;
            }
            value = value * 10 + u32::from(b - b'0');
            self.at += 1;
        }
        (self.at > start).then_some((value, self.at - start))
    }

    /// Letters, with everything beyond ASCII taken for one.
    pub fn letters(&mut self) -> &'b [u8] {
        let start = self.at;
        while self
            .peek()
            .is_some_and(|b| b.is_ascii_alphabetic() || b >= 0x80)
        {
            self.at += 1;
        }
        &self.bytes[start..self.at]
    }

    /// Digits behind a decimal mark, as a fraction of one.
    pub fn fraction(&mut self) -> Option<f64> {
        let (mut value, mut scale) = (0u64, 1u64);
        let start = self.at;
        while let Some(b @ b'0'..=b'9') = self.peek() {
            if self.at - start < 15 {
                value = value * 10 + u64::from(b - b'0');
                scale *= 10;
            }
            self.at += 1;
        }
        (self.at > start).then(|| value as f64 / scale as f64)
    }

    pub fn done(&self) -> bool {
        self.at == self.bytes.len()
    }
}
