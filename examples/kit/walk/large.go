package walk

import (
	"strings"
	"unicode"

	"example.com/closefit/examples/kit/page"
)

// glyphs are the large letters, five lines of five columns each, a bit a column.
const glyphs = `A 0e 11 1f 11 11
B 1e 11 1e 11 1e
C 0f 10 10 10 0f
D 1e 11 11 11 1e
E 1f 10 1e 10 1f
F 1f 10 1e 10 10
G 0f 10 13 11 0f
H 11 11 1f 11 11
I 0e 04 04 04 0e
J 07 02 02 12 0c
K 11 12 1c 12 11
L 10 10 10 10 1f
M 11 1b 15 11 11
N 11 19 15 13 11
O 0e 11 11 11 0e
P 1e 11 1e 10 10
Q 0e 11 15 12 0d
R 1e 11 1e 12 11
S 0f 10 0e 01 1e
T 1f 04 04 04 04
U 11 11 11 11 0e
V 11 11 11 0a 04
W 11 11 15 1b 11
X 11 0a 04 0a 11
Y 11 0a 04 04 04
Z 1f 02 04 08 1f
0 0e 13 15 19 0e
1 04 0c 04 04 0e
2 1e 01 0e 10 1f
3 1e 01 0e 01 1e
4 12 12 1f 02 02
5 1f 10 1e 01 1e
6 0e 10 1e 11 0e
7 1f 01 02 04 04
8 0e 11 0e 11 0e
9 0e 11 0f 01 0e
. 00 00 00 00 04
, 00 00 00 04 08
· 00 00 04 00 00
- 00 00 0e 00 00
+ 00 04 0e 04 00
/ 01 02 04 08 10
° 0c 12 0c 00 00
? 0e 11 06 00 04
! 04 04 04 00 04
: 00 04 00 04 00
≈ 0a 14 00 0a 14
± 04 0e 04 00 0e
m 00 1a 15 15 11
`

// large returns text in letters five lines high, each line no wider than so many
// columns; a word that is wider is broken. Small letters become capitals, but for the
// m of N·m; letters that there are none of become question marks.
func large(text string, columns int) []string {
	shapes := shapes()
	const wide = 6
	most := max(1, columns/wide)
	var out []string
	for _, line := range page.Wrap(text, most) {
		var rows [5]strings.Builder
		for _, r := range line {
			shape, known := shapes[r]
			if !known {
				shape, known = shapes[unicode.ToUpper(r)]
			}
			if !known && !unicode.IsSpace(r) {
				shape = shapes['?']
			}
			for i := range rows {
				for bit := 4; bit >= 0; bit-- {
					if shape[i]>>bit&1 == 1 {
						rows[i].WriteString("█")
					} else {
						rows[i].WriteByte(' ')
					}
				}
				rows[i].WriteByte(' ')
			}
		}
		for i := range rows {
			out = append(out, strings.TrimRight(rows[i].String(), " "))
		}
		out = append(out, "")
	}
	return out
}

// drawable reports whether there is a large letter for each of the text's.
func drawable(text string) bool {
	shapes := shapes()
	return !strings.ContainsFunc(text, func(r rune) bool {
		_, small := shapes[r]
		_, capital := shapes[unicode.ToUpper(r)]
		return !small && !capital && !unicode.IsSpace(r)
	})
}

// shapes reads the glyphs.
func shapes() map[rune][5]byte {
	all := map[rune][5]byte{}
	for line := range strings.Lines(glyphs) {
		fields := strings.Fields(line)
		var shape [5]byte
		for i, hex := range fields[1:] {
			for _, digit := range hex {
				shape[i] = shape[i]<<4 | byte(strings.IndexRune("0123456789abcdef", digit))
			}
		}
		all[[]rune(fields[0])[0]] = shape
	}
	return all
}
