package sheet

import (
	"bytes"
	"encoding/binary"
	"math/bits"
)

// A Lined is the cells of a column in all rows of a batch of lines, read from the bytes of the
// text without making cells of them: plain numbers, or texts of a few words.
type Lined struct {
	At     int       // the column, from 1
	Nano   []int64   // the numbers, in units of the ninth place; none if the cells are texts
	Places []int8    // how many places each of them is written with
	Most   int       // of Places
	Texts  []*string // the texts; none if the cells are numbers

	words []string // of the texts so far, each once; Texts point to them
}

// What a Lined holds.
const (
	linedPlaces = 9
	linedDigits = 100_000_000 // numbers are smaller than this in units of their last place
	linedWords  = 16
	linedBytes  = 64 // of a word
)

// Numbers reports whether the cells are numbers.
func (c *Lined) Numbers() bool { return len(c.Nano) > 0 }

var linedTens = [linedPlaces + 1]int64{1_000_000_000, 100_000_000, 10_000_000, 1_000_000, 100_000, 10_000, 1000, 100, 10, 1}

// Line reads columns of a batch of lines, which are named in order. The rows are numbered from
// first on, and have something in the columns up to widest. ok is false if the lines
// need to be split into cells: one is blank or beyond a bound, or a column holds anything but what a
// Lined can.
func (b *Batch) Line(columns []Lined) (first, rows, widest int, ok bool) {
	l := b.lines
	if l == nil || len(l.text) == 0 || l.of.dialect.Separator == l.of.dialect.Decimal {
		return 0, 0, 0, false
	}
	for i := range columns {
		c := &columns[i]
		c.Nano, c.Places, c.Texts, c.Most = c.Nano[:0], c.Places[:0], c.Texts[:0], 0
	}
	r := liner{unsplit: l, columns: columns}
	for r.from < len(l.text) {
		if !r.line() {
			return 0, 0, 0, false
		}
		rows++
	}
	return l.first, rows, r.widest, l.first+rows-1 <= l.of.bounds.Rows
}

// A liner reads lines from the byte at from on.
type liner struct {
	*unsplit
	columns []Lined
	from    int
	widest  int
}

// line reads one line.
func (r *liner) line() bool {
	text, separator := r.text, r.of.dialect.Separator
	begin, at, next := r.from, 1, 0
	for ended := false; !ended; at++ {
		start := r.from
		wanted := next < len(r.columns) && r.columns[next].At == at
		if wanted && len(r.columns[next].Texts) == 0 {
			done, isNumber := r.number(&r.columns[next])
			if done {
				r.widest = max(r.widest, at)
				ended = r.from == len(text) || text[r.from] == '\n'
				r.from++
				next++
				continue
			}
			if isNumber || r.columns[next].Numbers() {
				return false
			}
		}
		quoted := r.quoted && start < len(text) && text[start] == '"'
		end := start
		if quoted {
			end += 2 + bytes.IndexByte(text[start+1:], '"')
		}
		end = cellEnd(text, end, separator)
		ended = end == len(text) || text[end] == '\n'
		r.from = end + 1
		if ended && end > start && text[end-1] == '\r' {
			end--
		}
		if ended && at == 1 && end == start {
			return false // a blank line
		}
		if quoted {
			start, end = start+1, end-1
		}
		if end > start {
			r.widest = max(r.widest, at)
		}
		if wanted {
			if !r.columns[next].add(text[start:end], r.of.dialect.Decimal == ',') {
				return false
			}
			next++
		}
	}
	return next == len(r.columns) && at-1 <= r.of.bounds.Columns && r.from-begin <= r.of.bounds.CellText
}

// number reads a number up to its separator. done is false, and nothing is read,
// if the cell holds something else; plain is true if that is a number all the same.
func (r *liner) number(c *Lined) (done, plain bool) {
	text, mark, i := r.text, byte('.'), r.from
	if r.of.dialect.Decimal == ',' {
		mark = ','
	}
	if i+together <= len(text) {
		n, places, length := shortNumber(binary.LittleEndian.Uint64(text[i:]), mark)
		if end := text[i+length]; length > 0 && (end == r.of.dialect.Separator || end == '\n') {
			c.hold(n, places)
			r.from += length
			return true, true
		}
	}
	quoted := r.quoted && i < len(text) && text[i] == '"'
	if quoted {
		i++
	}
	start := i
	negative := i < len(text) && text[i] == '-'
	if negative {
		i++
	}
	begin, point, n := i, -1, int64(0)
	for ; i < len(text); i++ {
		digit := text[i] - '0'
		if digit <= 9 {
			n = n*10 + int64(digit)
			continue
		}
		if text[i] != mark || point >= 0 {
			break
		}
		point = i
	}
	digits, places := i-begin, 0
	if point >= 0 {
		digits--
		places = i - point - 1
	}
	length, end := i-start, i
	if quoted {
		if i == len(text) || text[i] != '"' {
			return false, false
		}
		i++
		end++
	}
	if i < len(text) && text[i] == '\r' && (i+1 == len(text) || text[i+1] == '\n') {
		end++
	}
	if end < len(text) && text[end] != '\n' && (text[end] != r.of.dialect.Separator || end > i) || digits == 0 {
		return false, false
	}
	if length > mostDigits || places > linedPlaces || n >= linedDigits {
		return false, true
	}
	if negative {
		n = -n
	}
	c.hold(n, places)
	r.from = end
	return true, true
}

// hold adds a number of n units of its last place.
func (c *Lined) hold(n int64, places int) {
	c.Nano = append(c.Nano, n*linedTens[places])
	c.Places = append(c.Places, int8(places))
	c.Most = max(c.Most, places)
}

// Bytes are looked at several together, of which the first is the lowest of a word.
const (
	together = 8
	each     = 0x0101010101010101 // times a byte: that byte at every place
	tops     = 0x80 * each
)

// shortNumber reads a number without a sign of fewer bytes than a word has, in units of its last
// place. What stands behind it is not looked at, save that it is no digit. The length is 0 if there is none.
func shortNumber(word uint64, mark byte) (n int64, places, length int) {
	digits := word ^ '0'*each
	others := (digits&^tops + 0x76*each | digits) & tops // the top bits of what is above 9
	end := uint(bits.TrailingZeros64(others)) &^ 7       // in bits
	count := end
	if byte(word>>(end&63)) == mark {
		behind := uint(bits.TrailingZeros64(others&(others-1))) &^ 7
		before := uint64(1)<<(end&63) - 1
		digits = digits&before | digits>>8&^before
		places, count, end = int(behind-end)/8-1, behind-8, behind
	}
	if end == 64 || count == 0 {
		return 0, 0, 0
	}
	digits <<= -count & 63                                  // with zeros before them, there are eight
	digits = digits * (10<<8 + 1) >> 8 & 0x00FF00FF00FF00FF // pairs of them
	digits = digits * (100<<16 + 1) >> 16 & 0x0000FFFF0000FFFF
	return int64(digits * (10_000<<32 + 1) >> 32), places, int(end / 8)
}

// cellEnd returns where a cell without quotation marks ends that goes on at from.
func cellEnd(text []byte, from int, separator byte) int {
	for ; from+together <= len(text); from += together {
		word := binary.LittleEndian.Uint64(text[from:])
		a, b := word^uint64(separator)*each, word^'\n'*each
		if found := ((a-each)&^a | (b-each)&^b) & tops; found != 0 { // the lowest top bit is that of the first byte that is 0 in one of them
			return from + bits.TrailingZeros64(found)/8
		}
	}
	for from < len(text) && text[from] != separator && text[from] != '\n' {
		from++
	}
	return from
}

// add adds a cell that holds no plain number.
func (c *Lined) add(text []byte, comma bool) bool {
	if n := len(c.Texts); n > 0 && string(text) == *c.Texts[n-1] {
		c.Texts = append(c.Texts, c.Texts[n-1])
		return true
	}
	for i := range c.words {
		if c.words[i] == string(text) {
			c.Texts = append(c.Texts, &c.words[i])
			return !c.Numbers()
		}
	}
	if len(c.words) == linedWords {
		c.words = nil
		return false
	}
	cell := Cell{Text: string(text), comma: comma}
	if len(text) > linedBytes || cell.Kind() != KindText {
		return false
	}
	if c.words == nil {
		c.words = make([]string, 0, linedWords)
	}
	c.words = append(c.words, cell.Text)
	c.Texts = append(c.Texts, &c.words[len(c.words)-1])
	return !c.Numbers()
}

// Last returns the last row of a batch of lines of which Line has read all, with its cells.
func (b *Batch) Last(number int) (Row, error) {
	l := *b.lines
	from := bytes.LastIndexByte(bytes.TrimSuffix(l.text, []byte("\n")), '\n') + 1
	l.text, l.first = l.text[from:], number
	var one Batch
	err := l.split(&one)
	if err != nil || len(one.rows) == 0 {
		return Row{}, err
	}
	return one.rows[0], nil
}
