package lesson

import (
	"fmt"
	"testing"
)

// A place of the lesson on stacks, as a slider asks for it, without a browser.
func BenchmarkStacking(b *testing.B) {
	q := NewQuestions()
	for _, at := range [][5]int64{{0, 0, 100, 0, 0}, {0, 0, 100, 25, 0}, {0, 0, 100, 0, 50}, {1, 1, 100, 0, 0}, {1, 2, 100, 0, 0}, {1, 2, 100, 25, 0}, {1, 2, 100, 0, 50}} {
		b.Run(fmt.Sprint(at), func(b *testing.B) {
			b.ReportAllocs()
			for i := range b.N {
				a := at
				a[2] = 50 + 10*int64(i%16)
				doc := fmt.Appendf(nil, `{"closefit": 1, "question": "lesson", "with": {"lesson": "stacking", "at": [%d, %d, %d, %d, %d], "moving": true}}`, a[0], a[1], a[2], a[3], a[4])
				q.Answer(b.Context(), doc)
			}
		})
	}
}
