package grading_test

import (
	"context"
	"fmt"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/grading"
	"example.com/closefit/grading/purchase"
	"example.com/closefit/units"
)

// stepsText is an invented scheme as it is typed from a manual.
const stepsText = `# an invented engine
scheme,pump-set mains
mix,1
limits,0.020..0.044 mm
wanted,0.030 mm
housing,A,red,,64.000..64.006 mm
housing,B,blue,,64.006..64.012 mm
journal,1,red,,59.970..59.976 mm
journal,2,blue,,59.964..59.970 mm
shell,red,,1.997..1.999 mm
shell,blue,,2.001..2.003 mm
shell,green,,2.005..2.007 mm
`

func stepsScheme() *grading.Scheme {
	s, err := grading.ReadCSV(strings.NewReader(stepsText))
	if err != nil {
		panic(err)
	}
	return s
}

// A row that reads otherwise from its other end says so, and where to measure.
func ExampleRow_Read() {
	row := grading.Row{Text: "A?BC*", Side: grading.Housing, Codes: []string{"A", "B", "C"},
		Locations: []string{"main 1", "main 2", "main 3", "main 4"}}
	r, err := row.Read()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range r.Stamps {
		fmt.Println(s.Location, s.Code, s.Possible)
	}
	fmt.Println("no codes:", r.Marks)
	fmt.Println(r.Question())

	row.Text = "ABBCA"
	_, err = row.Read()
	fmt.Println(err)
	// Output:
	// main 1 A [A]
	// main 2 ? [A B C]
	// main 3 B [B]
	// main 4 C [C]
	// no codes: [*]
	// housing codes "A?BC*" can be read in more than one way: A ? B C, or from the other end C B ? A. At main 1 the code is A or C accordingly. Find in the manual to which location the first code belongs (the mark * may show it), or measure the housing at main 1 and compare it with the sizes of these codes
	// housing codes "ABBCA": codes that cannot be used: 5 codes (A, B, B, C, A) for 4 locations (main 1, main 2, main 3, main 4); leave out what is no code of a location, such as a mark at the end
}

// A scheme is checked before it is trusted: one cell of this one can leave a
// location outside its limits.
func ExampleScheme_Audit() {
	s := stepsScheme()
	audit, err := s.Audit()
	fmt.Println(err)
	if audit == nil {
		return
	}
	fmt.Println("spread as typed", audit.AsTyped.Width(), "best", audit.Best.Width(), "without grades", audit.Ungraded.Width())
	w, _ := s.Working(audit.Cells[3].Site, audit.Cells[3].Coded[0].Pair, units.Millimetre)
	fmt.Print(w.Text())
	// Output:
	// scheme "pump-set mains", housing B, journal 2: not proven inside the limits: blue upper + blue lower gives 0.03..0.046 mm, undecided; green upper + green lower would give 0.022..0.038 mm
	// spread as typed 0.02 mm best 0.018 mm without grades 0.028 mm
	// housing B, journal 2, blue upper + blue lower
	//   smallest
	//     64.006 - 2.003 - 2.003 - 59.97
	//     = 0.03 mm
	//   largest
	//     64.012 - 2.001 - 2.001 - 59.964
	//     = 0.046 mm
	//   C = D - t1 - t2 - d
	//   = 0.03..0.046 mm
	//   source: worst case: the smallest bore with the largest walls and journal, and the other way round
	//   note: against 0.02..0.044 mm: undecided
}

// From measured sizes: every pair that is proven inside, nearest first.
func ExampleScheme_Fits() {
	places, err := stepsScheme().Fits([]grading.Site{{
		Location: "main 1",
		Housing:  units.MustParseLengthInterval("64.006 ±0.001 mm"),
		Journal:  units.MustParseLengthInterval("59.974 ±0.001 mm"),
	}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range places[0] {
		fmt.Printf("%-26s %s, %s off\n", f.Pair, f.Clearance.FormatOutward(units.Millimetre, 3), f.Off)
	}
	// Output:
	// red upper + blue lower     0.028..0.036 mm, 0.002 mm off
	// blue upper + red lower     0.028..0.036 mm, 0.002 mm off
	// blue upper + blue lower    0.024..0.032 mm, 0.002 mm off
	// red upper + red lower      0.032..0.040 mm, 0.006 mm off
	// blue upper + green lower   0.020..0.028 mm, 0.006 mm off
	// green upper + blue lower   0.020..0.028 mm, 0.006 mm off
}

// Three mains of which one would like an odd half: a whole pair of blue shells is
// bought for it, or a set of red ones does for all three, a little farther from
// what is wanted.
func ExampleChoose() {
	site := func(location, bore, journal string) grading.Site {
		return grading.Site{Location: location, Housing: units.MustParseLengthInterval(bore), Journal: units.MustParseLengthInterval(journal)}
	}
	places, err := stepsScheme().Fits([]grading.Site{
		site("main 1", "64.001 ±0.001 mm", "59.975 ±0.001 mm"),
		site("main 2", "64.002 ±0.001 mm", "59.975 ±0.001 mm"),
		site("main 3", "64.006 ±0.001 mm", "59.974 ±0.001 mm"),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	part := func(grade string, half grading.Half) grading.Part { return grading.Part{Grade: grade, Half: half} }
	plan, err := grading.Choose(context.Background(), places, purchase.Request[grading.Part]{Packs: []purchase.Pack[grading.Part]{
		{Name: "red set", Price: new(decimal.RequireFromString("48.00")), Parts: []purchase.Count[grading.Part]{{Part: part("red", grading.Upper), N: 3}, {Part: part("red", grading.Lower), N: 3}}},
		{Name: "blue pair", Price: new(decimal.RequireFromString("21.50")), Parts: []purchase.Count[grading.Part]{{Part: part("blue", grading.Upper), N: 1}, {Part: part("blue", grading.Lower), N: 1}}},
	}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(plan.Working().Text())
	// Output:
	// the cheapest purchase for which every location is proven inside
	//   why nothing is cheaper
	//     red upper, red lower, blue lower, blue upper, green lower, green upper
	//       whatever is bought
	//         main 1 served + main 2 served + main 3 served
	//         16.00 + 16.00 + 16.00
	//         = at least 48.00
	//         note: a place is served for the worth of the parts of its cheapest alternative: red upper 16.00, blue upper 16.00, green upper 16.00
	//         note: price of a pack less the worth of what it can add: red set 0.00, blue pair 5.50
	//       = at least 48.00
	//     price >= Σ the least prices of the components, which share nothing
	//     = at least 48.00
	//     source: weak duality of linear programming, case by case; dynamic programming where there is a table
	//     note: packs that are not named here are sold out, or hold nothing that can be short
	//   price = Σ number × price of the pack
	//   1 × 48.00
	//   = 48.00
	//   note: buy 1 × red set (3 × red upper, 3 × red lower) at 48.00
	//   note: main 1: red upper + red lower, 0.026..0.034 mm
	//   note: main 2: red upper + red lower, 0.027..0.035 mm
	//   note: main 3: red upper + red lower, 0.032..0.04 mm
	//   note: for 48.00: 0.007 mm from what is wanted, over all locations
	//   note: for 69.50: 0.003 mm from what is wanted, over all locations; 21.50 more buys 0.004 mm, 0.186 µm for each 1
}

// Thrust washers are chosen and bought as shells are.
func ExampleScheme_Fits_washers() {
	exactly := units.MustParseLengthInterval
	washers := grading.Scheme{Name: "thrust washers", Interchangeable: true, Limits: exactly("0.08..0.20 mm"), Shells: []grading.Shell{
		{Grade: "standard", Wall: exactly("2.490..2.500 mm")},
		{Grade: "+0.05", Wall: exactly("2.540..2.550 mm")},
	}}
	// 0.24 to 0.25 mm of end play was measured with two standard washers fitted.
	fitted := washers.Shells[0]
	site := grading.Site{Location: "main 3", EndPlay: exactly("0.245 ±0.005 mm"), Fitted: []grading.Shell{fitted, fitted}}
	places, err := washers.Fits([]grading.Site{site})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range places[0] {
		fmt.Println(f.Pair, f.Clearance)
	}
	// Output:
	// +0.05 + +0.05 0.12..0.17 mm
}

// What is bought for one half may not do for the other.
func ExampleScheme_Compare() {
	s := stepsScheme()
	read := func(side grading.Side, code string) grading.RowReading {
		r, err := grading.Row{Text: code, Side: side, Codes: s.Codes(side), Locations: []string{"main 2"}}.Read()
		if err != nil {
			panic(err)
		}
		return r
	}
	list, err := s.Compare(read(grading.Housing, "B"), read(grading.Journal, "2"), []grading.Site{{Location: "main 2",
		Housing: units.MustParseLengthInterval("64.011 ±0.001 mm"), Journal: units.MustParseLengthInterval("59.964 ±0.001 mm")}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(list[0])
	// Output:
	// main 2: the codes say blue upper + blue lower (0.039..0.047 mm, undecided), the sizes say green upper + green lower (0.031..0.039 mm, conforming) or 2 others
}

// Two neighbouring mains: the second alone would take a pair that is a little nearer,
// and the two would then run apart by more than that gains.
func ExampleAlike() {
	fit := func(location, clearance, off string) grading.PairFit {
		return grading.PairFit{Location: location, Clearance: units.MustParseLengthInterval(clearance), Off: units.MustParseLength(off)}
	}
	choices, err := grading.Alike([][]grading.PairFit{
		{fit("main 1", "0.032..0.036 mm", "0.004 mm")},
		{fit("main 2", "0.026..0.030 mm", "0.002 mm"), fit("main 2", "0.031..0.035 mm", "0.003 mm")},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range choices {
		fmt.Println(c.Location, c.Clearance)
	}
	// Output:
	// main 1 0.032..0.036 mm
	// main 2 0.031..0.035 mm
}

// A crank ground by 0.25 mm takes shells whose walls are thicker by half of that, and
// its old stamps are void.
func ExampleScheme_InFamily() {
	s := stepsScheme()
	s.Families = []grading.Family{{Name: "0.25", Undersize: units.MustParseLength("0.25 mm")}}
	ground, err := s.InFamily("0.25")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(ground.Shells[0].Grade, ground.Shells[0].Wall, ground.Journal[0].Size)
	_, err = s.InFamily("0.5")
	fmt.Println(err)
	// Output:
	// 0.25 red 2.122..2.124 mm 59.72..59.726 mm
	// scheme "pump-set mains", family 0.5: not a scheme that can be used: it is not in the scheme; write one of standard, 0.25
}
