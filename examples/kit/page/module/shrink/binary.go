package shrink

// A reader reads what the binary format of WebAssembly is made of. Behind the end it reads zeros,
// and says so in short.
type reader struct {
	text  []byte
	short bool
}

func (r *reader) byte() byte {
	if len(r.text) == 0 {
		r.short = true
		return 0
	}
	b := r.text[0]
	r.text = r.text[1:]
	return b
}

func (r *reader) bytes(n int) []byte {
	if n < 0 || n > len(r.text) {
		r.short = true
		n = len(r.text)
	}
	b := r.text[:n]
	r.text = r.text[n:]
	return b
}

// unsigned reads an unsigned number of LEB128, of at most 32 bits.
func (r *reader) unsigned() int {
	n := 0
	for shift := 0; shift < 35; shift += 7 {
		b := r.byte()
		n |= int(b&0x7f) << shift
		if b < 0x80 {
			return n
		}
	}
	r.short = true
	return 0
}

// signed reads a signed number of LEB128, of at most 64 bits.
func (r *reader) signed() int64 {
	n := int64(0)
	for shift := 0; shift < 70; shift += 7 {
		b := r.byte()
		n |= int64(b&0x7f) << shift
		if b < 0x80 {
			if b&0x40 != 0 && shift+7 < 64 {
				n |= -1 << (shift + 7)
			}
			return n
		}
	}
	r.short = true
	return 0
}

func appendUnsigned(to []byte, n int) []byte {
	for n >= 0x80 {
		to = append(to, byte(n)|0x80)
		n >>= 7
	}
	return append(to, byte(n))
}

func appendSigned(to []byte, n int64) []byte {
	for n < -0x40 || n >= 0x40 {
		to = append(to, byte(n)|0x80)
		n >>= 7
	}
	return append(to, byte(n)&0x7f)
}

func appendBytes(to, text []byte) []byte {
	return append(appendUnsigned(to, len(text)), text...)
}
