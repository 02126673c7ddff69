package conform

import (
	"fmt"
	"math/big"
	"slices"
	"strconv"
	"strings"
)

func workedAssignments(b *bench) {
	grades := []string{"red", "blue", "green", "black", "white"}
	letters, figures := []string{"A", "B", "C"}, []string{"1", "2", "3"}
	locations := func(n int) (l []string) {
		for i := range n {
			l = append(l, strconv.Itoa(i+1))
		}
		return l
	}
	ask := func(edge string, scheme obj, housing, journal []string, pairs []any, derivation string) {
		b.add("assign", "assign", edge, obj{"scheme": scheme, "codes": obj{"locations": locations(len(housing)), "housing": obj{"text": strings.Join(housing, "-")}, "journal": obj{"text": strings.Join(journal, "-")}}},
			obj{"pairs": pairs}, nil, "", derivation)
	}
	code := func(c, shell string) obj { return obj{"code": c, "shell": shell} }
	var halvesH, halvesJ, plainH, plainJ []any
	for i := range 3 {
		halvesH, halvesJ = append(halvesH, code(letters[i], grades[i])), append(halvesJ, code(figures[i], grades[i+2]))
		plainH, plainJ = append(plainH, obj{"code": letters[i], "number": i + 1}), append(plainJ, obj{"code": figures[i]})
	}
	matrix := [][]string{{"", "1", "2", "3"}}
	for i, l := range letters {
		row := []string{l}
		for j := range figures {
			cell := grades[(i+j)%5]
			if (i+j)%2 == 1 {
				cell += "/" + grades[(i+j+1)%5]
			}
			row = append(row, cell)
		}
		matrix = append(matrix, row)
	}
	sums := []any{obj{"from": 2, "to": 3, "shells": "red"}, obj{"from": 4, "to": 4, "shells": "red/blue"}, obj{"from": 5, "to": 6, "shells": "blue"}}
	split := func(cell string) []any {
		upper, lower, two := strings.Cut(cell, "/")
		if !two {
			lower = upper
		}
		return []any{upper, lower}
	}
	// One location, every pair of codes; then three to seven locations.
	for n := range 90 {
		size := 1
		if n >= 9 {
			size = 2 + n%6
		}
		var h, j []string
		halves, cells, byNumber := []any{}, []any{}, []any{}
		for k := range size {
			x, y := (n/3+k*(n+1))%3, (n+k*k)%3
			h, j = append(h, letters[x]), append(j, figures[y])
			halves = append(halves, []any{grades[x], grades[y+2]})
			cells = append(cells, split(matrix[x+1][y+1]))
			byNumber = append(byNumber, split(map[int]string{2: "red", 3: "red", 4: "red/blue", 5: "blue", 6: "blue"}[x+1+y+1]))
		}
		ask("halves", obj{"housing": halvesH, "journal": halvesJ}, h, j, halves, "each code's own grade: the housing's upper, the journal's lower")
		ask("matrix", obj{"housing": bare2(plainH), "journal": bare2(plainJ), "matrix": matrix}, h, j, cells, "the cell of the housing code's row under the journal code")
		ask("sums", obj{"housing": plainH, "journal": plainJ, "sum": sums}, h, j, byNumber, "A, B, C are 1, 2, 3; add the journal's number, and take the row whose range holds the sum, its ends included")
	}

	// Sizes: every pair of walls by brute force.
	walls := [][2]string{{"2.000", "2.002"}, {"2.002", "2.004"}, {"2.004", "2.006"}, {"2.006", "2.008"}}
	var shells []any
	for i, w := range walls {
		shells = append(shells, obj{"grade": grades[i], "wall": w[0] + ".." + w[1] + " mm"})
	}
	for n := range 60 {
		limits := [][2]string{{"0.020", "0.040"}, {"0.024", "0.034"}, {"0.020", "0.026"}}[n%3]
		lo := plus(rat("4.028"), times(rat("0.001"), big.NewRat(int64(n/3), 1)))
		hi := plus(lo, rat([]string{"0.002", "0", "0.006"}[n%3]))
		for mix := range 2 {
			fits := []any{}
			for u := range walls {
				for l := range walls {
					apart := max(u-l, l-u)
					least := minus(minus(lo, rat(walls[u][1])), rat(walls[l][1]))
					most := minus(minus(hi, rat(walls[u][0])), rat(walls[l][0]))
					if apart <= mix && least.Cmp(rat(limits[0])) >= 0 && most.Cmp(rat(limits[1])) <= 0 {
						fits = append(fits, []any{grades[u], grades[l]})
					}
				}
			}
			b.add("assign", "sizes", "sizes", obj{"scheme": obj{"shell": shells, "limits": limits[0] + ".." + limits[1] + " mm", "mix": mix}, "room": fmt.Sprintf("%s..%s mm", dec(lo), dec(hi))},
				obj{"fits": fits}, nil, "", "all pairs: the least room less both greatest walls, the greatest less both least, against the limits, which belong to the allowed")
		}
	}
	for _, by := range []string{"0", "0.001", "0.25", "0.5", "0.75", "1"} {
		for _, unit := range []string{"mm", "in"} {
			for _, x := range [][2]string{{"wall", "1/2"}, {"journal", "-1"}, {"bore", "-1"}} {
				part, share := x[0], x[1]
				lo, hi := plus(rat("2.4981"), times(rat(share), rat(by))), plus(rat("2.5003"), times(rat(share), rat(by)))
				b.add("assign", "undersize", "undersize-"+part, obj{"part": part, "standard": "2.4981..2.5003 " + unit, "undersize": by + " " + unit, "unit": unit},
					obj{"lo": dec(lo), "hi": dec(hi)}, nil, "", "the undersize is of the diameter: "+share+" of it is added")
			}
		}
	}
}

// bare2 are the codes alone, which a matrix needs.
func bare2(codes []any) (plain []any) {
	for _, c := range codes {
		plain = append(plain, obj{"code": c.(obj)["code"]})
	}
	return plain
}

// workedPurchases are bought by trying every number of every pack.
func workedPurchases(b *bench) {
	type pack struct {
		price string
		a, b  int
		limit int // -1 for none
	}
	sets := []struct {
		name  string
		packs []pack
	}{
		{"even", []pack{{"7", 2, 0, -1}, {"6", 0, 2, -1}}},
		{"single-and-pair", []pack{{"4", 1, 0, -1}, {"7", 2, 0, -1}, {"3", 0, 1, -1}}},
		{"mixed", []pack{{"10", 2, 1, -1}, {"9", 1, 2, -1}, {"4.5", 0, 1, -1}, {"5.5", 1, 0, -1}}},
		{"limited", []pack{{"5", 2, 2, 2}, {"4", 1, 0, -1}, {"4", 0, 1, -1}}},
		{"sold-out", []pack{{"1", 4, 4, 0}, {"9", 4, 0, -1}, {"8", 0, 4, 2}}},
		{"free", []pack{{"0", 1, 0, 3}, {"2.25", 1, 1, -1}}},
	}
	for _, set := range sets {
		for needA := range 7 {
			for _, needB := range []int{0, 1, 3, 6} {
				for _, stock := range [][2]int{{0, 0}, {1, 2}} {
					if needA+needB == 0 && stock[0] > 0 || set.name == "free" && stock[0] > 0 {
						continue
					}
					var packs, needs, held []any
					for i, p := range set.packs {
						var parts []any
						if p.a > 0 {
							parts = append(parts, obj{"part": "A", "n": p.a})
						}
						if p.b > 0 {
							parts = append(parts, obj{"part": "B", "n": p.b})
						}
						var limit any
						if p.limit >= 0 {
							limit = p.limit
						}
						packs = append(packs, obj{"name": fmt.Sprint("pack ", i+1), "price": p.price, "parts": parts, "limit": limit})
					}
					for i, n := range []int{needA, needB} {
						if n > 0 {
							part := []string{"A", "B"}[i]
							needs = append(needs, obj{"name": part, "n": n, "alternatives": []any{obj{"parts": []string{part}, "distance": "0 mm"}}})
						}
						if stock[i] > 0 {
							held = append(held, obj{"part": []string{"A", "B"}[i], "n": stock[i]})
						}
					}
					var best *big.Rat
					var try func(i, a, b int, price *big.Rat)
					try = func(i, a, b int, price *big.Rat) {
						if a >= needA && b >= needB && (best == nil || price.Cmp(best) < 0) {
							best = price
						}
						if i == len(set.packs) {
							return
						}
						p := set.packs[i]
						most := p.limit
						if most < 0 {
							most = 7
						}
						for n := 0; n <= most; n++ {
							try(i+1, a+n*p.a, b+n*p.b, plus(price, times(rat(p.price), big.NewRat(int64(n), 1))))
						}
					}
					try(0, stock[0], stock[1], new(big.Rat))
					want := obj{"none": true}
					if best != nil {
						want = obj{"price": dec(best)}
					}
					if needs == nil {
						needs = []any{}
					}
					if held == nil {
						held = []any{}
					}
					b.add("buy", "buy", set.name, obj{"needs": needs, "stock": held, "packs": packs}, want, nil, "", "every number of every pack up to seven, or to its limit, was tried: seven of each serve any need here")
				}
			}
		}
	}
}

func workedPlans(b *bench) {
	for _, n := range slices.Concat(numbersTo(24), []int{28, 30, 32, 36, 40}) {
		var order []any
		for _, i := range starBy(n) {
			order = append(order, strconv.Itoa(i+1))
		}
		b.add("plan", "star", "star", obj{"bolts": n}, obj{"order": order}, nil, "", "by the rule of the page, every candidate compared with all taken before it")
	}
	// Grids of columns and rows, and rows of one; rings are compared by squares of whole numbers.
	for rows := 1; rows <= 8; rows++ {
		for columns := 1; columns <= 4; columns++ {
			if rows*columns > 20 || columns > 2 && rows > 2 {
				continue
			}
			for _, pitch := range [][2]int{{100, 110}, {60, 90}} {
				var positions []any
				var at [][2]int
				for r := range rows {
					for c := range columns {
						at = append(at, [2]int{c * pitch[0], r * pitch[1]})
						positions = append(positions, obj{"bolt": strconv.Itoa(len(at)), "x": strconv.Itoa(c * pitch[0]), "y": strconv.Itoa(r * pitch[1])})
					}
				}
				for _, by := range []string{"inside out", "outside in", "rows"} {
					var order []any
					for _, i := range orderBy(at, by) {
						order = append(order, strconv.Itoa(i+1))
					}
					b.add("plan", "order", "grid", obj{"positions": positions, "order": by}, obj{"order": order}, nil, "", "squares of twice the distances, in whole millimetres; the rings and the farthest by the rule of the page")
				}
			}
		}
	}
	for n := 1; n <= 12; n++ {
		for _, stages := range [][]string{{"tighten 30 N·m"}, {"tighten 30 N·m", "tighten 60 N·m"}, {"tighten 30 N·m", "turn 60°", "turn 60°"}, {"tighten 40 N·m", "back off", "tighten 20 N·m", "turn 90°"}} {
			var bolts []string
			for i := range n {
				bolts = append(bolts, strconv.Itoa((i*5)%13+1))
			}
			var steps []any
			for s := range stages {
				for _, bolt := range bolts {
					steps = append(steps, []any{bolt, strconv.Itoa(s + 1)})
				}
			}
			b.add("plan", "steps", "steps", obj{"bolts": bolts, "stages": stages}, obj{"steps": steps}, nil, "", "the list once for each stage")
		}
	}
}

func numbersTo(n int) (all []int) {
	for i := range n {
		all = append(all, i+1)
	}
	return all
}

// starBy is the star of the page, by looking at everything anew for each bolt.
func starBy(n int) (order []int) {
	spread := func(m int) (taken []int) {
		taken = []int{0}
		for len(taken) < m {
			best, score := -1, []int(nil)
			for i := range m {
				if slices.Contains(taken, i) {
					continue
				}
				back, ahead := m, m
				var last []int
				for k := len(taken) - 1; k >= 0; k-- {
					d := ((taken[k]-i)%m + m) % m
					ahead, back = min(ahead, d), min(back, m-d)
					last = append(last, min(d, m-d))
				}
				s := append([]int{min(back, ahead), max(back, ahead)}, last...)
				if best < 0 || slices.Compare(s, score) > 0 {
					best, score = i, s
				}
			}
			taken = append(taken, best)
		}
		return taken
	}
	switch {
	case n%4 == 0:
		for _, i := range spread(n / 4) {
			order = append(order, i, i+n/2, i+n/4, i+3*n/4)
		}
	case n%2 == 0:
		for _, i := range spread(n / 2) {
			order = append(order, i, i+n/2)
		}
	default:
		at := 0
		for range n {
			order = append(order, at)
			at = (at + max(1, n/2)) % n
		}
	}
	return order
}

// orderBy is an order of the page.
func orderBy(at [][2]int, by string) (order []int) {
	var all []int
	minX, maxX, minY, maxY := at[0][0], at[0][0], at[0][1], at[0][1]
	for i, p := range at {
		all = append(all, i)
		minX, maxX, minY, maxY = min(minX, p[0]), max(maxX, p[0]), min(minY, p[1]), max(maxY, p[1])
	}
	if by == "rows" {
		slices.SortStableFunc(all, func(a, b int) int {
			if at[a][1] != at[b][1] {
				return at[a][1] - at[b][1]
			}
			return at[a][0] - at[b][0]
		})
		return all
	}
	ring := func(i int) int {
		x, y := 2*at[i][0]-minX-maxX, 2*at[i][1]-minY-maxY
		return x*x + y*y
	}
	for len(all) > 0 {
		pick := ring(all[0])
		for _, i := range all {
			if by == "inside out" {
				pick = min(pick, ring(i))
			} else {
				pick = max(pick, ring(i))
			}
		}
		next, far := -1, -1
		for _, i := range all {
			if ring(i) != pick {
				continue
			}
			d := 0
			if len(order) > 0 {
				l := at[order[len(order)-1]]
				d = (at[i][0]-l[0])*(at[i][0]-l[0]) + (at[i][1]-l[1])*(at[i][1]-l[1])
			}
			if d > far {
				next, far = i, d
			}
		}
		order = append(order, next)
		all = slices.DeleteFunc(all, func(i int) bool { return i == next })
	}
	return order
}
