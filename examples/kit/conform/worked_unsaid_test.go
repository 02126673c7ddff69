package conform

import (
	"slices"
	"strconv"
	"strings"
)

// workedIllegible are rows of codes of which some cannot be read, and sums that no row covers.
// The second way: every code in the place of each "?", and the pairs compared as words.
func workedIllegible(b *bench) {
	letters, figures := []string{"A", "B", "C"}, []string{"1", "2", "3"}
	codes := func(names []string) (all []any) {
		for _, n := range names {
			all = append(all, obj{"code": n})
		}
		return all
	}
	numbered := func(names []string) (all []any) {
		for i, n := range names {
			all = append(all, obj{"code": n, "number": i + 1})
		}
		return all
	}
	shelled := func(names, shells []string) (all []any) {
		for i, n := range names {
			all = append(all, obj{"code": n, "shell": shells[i]})
		}
		return all
	}
	split := func(cell string) []any {
		upper, lower, two := strings.Cut(cell, "/")
		if !two {
			lower = upper
		}
		return []any{upper, lower}
	}
	cells := map[string]string{ // the row of B and the column of 2 do not need the other code
		"A1": "red", "A2": "red/blue", "A3": "blue", "B1": "red/blue", "B2": "red/blue", "B3": "red/blue", "C1": "blue/red", "C2": "red/blue", "C3": "green",
	}
	matrix := [][]string{{"", "1", "2", "3"}}
	for _, l := range letters {
		matrix = append(matrix, []string{l, cells[l+"1"], cells[l+"2"], cells[l+"3"]})
	}
	bySum := map[int]string{2: "red", 3: "blue", 4: "blue", 5: "blue", 6: "green"}
	schemes := []struct {
		edge   string
		scheme obj
		cell   func(h, j string) string
		why    string
	}{
		{"illegible-matrix", obj{"housing": codes(letters), "journal": codes(figures), "matrix": matrix}, func(h, j string) string { return cells[h+j] },
			"every code in the place of ?: the cells are compared"},
		{"illegible-sums", obj{"housing": numbered(letters), "journal": codes(figures), "sum": []any{obj{"from": 2, "to": 2, "shells": "red"}, obj{"from": 3, "to": 5, "shells": "blue"}, obj{"from": 6, "to": 6, "shells": "green"}}},
			func(h, j string) string { return bySum[slices.Index(letters, h)+1+slices.Index(figures, j)+1] }, "every code in the place of ?: A, B, C are 1, 2, 3, and the rows of the sums are compared"},
		{"illegible-halves", obj{"housing": shelled(letters, []string{"red", "red", "red"}), "journal": shelled(figures, []string{"blue", "green", "green"})},
			func(h, j string) string {
				return "red/" + map[string]string{"1": "blue", "2": "green", "3": "green"}[j]
			}, "every code in the place of ?: all housing codes give one upper half, the journal codes do not"},
	}
	for _, s := range schemes {
		for n := range 34 {
			size := 1 + n%4
			if n < 16 {
				size = 1 // each code with each, ? among them
			}
			var h, j []string
			pairs := []any{}
			for k := range size {
				x, y := (n/4+k*(n+1))%4, (n+k*k)%4
				hc, jc := append(letters, "?")[x], append(figures, "?")[y]
				h, j = append(h, hc), append(j, jc)
				found := map[string]bool{}
				for _, a := range letters {
					for _, c := range figures {
						if (hc == "?" || hc == a) && (jc == "?" || jc == c) {
							found[s.cell(a, c)] = true
						}
					}
				}
				if len(found) > 1 {
					pairs = append(pairs, nil)
					continue
				}
				for cell := range found {
					pairs = append(pairs, split(cell))
				}
			}
			var locations []string
			for i := range size {
				locations = append(locations, strconv.Itoa(i+1))
			}
			b.add("assign", "assign", s.edge, obj{"scheme": s.scheme, "codes": obj{"locations": locations, "housing": obj{"text": strings.Join(h, "-")}, "journal": obj{"text": strings.Join(j, "-")}}},
				obj{"pairs": pairs}, nil, "", s.why)
		}
	}
	// Sums with a gap, and with an end that is not reached.
	for _, gap := range []struct {
		rows    []any
		covered []int
	}{
		{[]any{obj{"from": 2, "to": 3, "shells": "red"}, obj{"from": 5, "to": 6, "shells": "blue"}}, []int{2, 3, 5, 6}},
		{[]any{obj{"from": 3, "to": 6, "shells": "red"}}, []int{3, 4, 5, 6}},
		{[]any{obj{"from": 2, "to": 5, "shells": "red"}}, []int{2, 3, 4, 5}},
	} {
		for x, l := range letters {
			for y, f := range figures {
				want := obj{"none": true}
				if sum := x + 1 + y + 1; slices.Contains(gap.covered, sum) {
					shell := "red"
					if len(gap.rows) == 2 && sum >= 5 {
						shell = "blue"
					}
					want = obj{"pairs": []any{[]any{shell, shell}}}
				}
				b.add("assign", "assign", "not-covered", obj{"scheme": obj{"housing": numbered(letters), "journal": codes(figures), "sum": gap.rows}, "codes": obj{"locations": []string{"1"}, "housing": obj{"text": l}, "journal": obj{"text": f}}},
					want, nil, "", "the sum of both numbers is looked for in every row; where none holds it, nothing is assigned")
			}
		}
	}
}
