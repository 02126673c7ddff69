package evidence

import (
	"errors"
	"strings"
	"testing"
)

func TestStanding(t *testing.T) {
	const book = "A book; table 1"
	tests := []struct {
		name string
		rows []string // without the id; the last one is judged
		want Standing
	}{
		{"alone", []string{"convert,value=0.751 in,19.075,mm,0," + book + ",published,"}, Fact},
		{"derived", []string{"convert,value=0.751 in,19.075,mm,0," + book + ",derived,0.751 times 25.4"}, Follows},
		{"recalled, and follows from another", []string{"deviation,class=p6,12,µm,0," + book + ",from memory,follows from p6-lower: 6 + 6"}, Follows},
		{"printed after derived", []string{
			"convert,value=0.751 in,19.075,mm,0," + book + ",derived,0.751 times 25.4",
			"convert,value=0.751 in,19.075,mm,0," + book + ",published,"}, Fact},
		{"twice", []string{
			"sum,a=1 mm; b=2 mm,3,mm,0," + book + ",published,",
			"sum,a=1 mm; b=2 mm,3,mm,0,Another book,published,"}, Repeat},
		{"inputs exchanged", []string{
			"difference,a=5 mm; b=2 mm,3,mm,0," + book + ",published,",
			"difference,a=2 mm; b=5 mm,-3,mm,0," + book + ",published,"}, Fact},
		{"another check", []string{
			"sum,a=1 mm; b=2 mm,3,mm,0," + book + ",published,",
			"largest sum,a=1 mm; b=2 mm,3,mm,0," + book + ",published,"}, Fact},
		{"another unit", []string{
			"sum,a=1 mm; b=2 mm,3,mm,0," + book + ",published,",
			"sum,a=1 mm; b=2 mm,3000,µm,0," + book + ",published,"}, Fact},
		{"way back", []string{
			"convert,quantity=length; value=0.7510 in,19.075,mm,0," + book + ",published,",
			"convert,quantity=length; value=19.075 mm,.751,in,0," + book + ",published,"}, Repeat},
		{"way back from another value", []string{
			"convert,quantity=length; value=0.751 in,19.07,mm,0," + book + ",published,",
			"convert,quantity=length; value=19.075 mm,0.751,in,0," + book + ",published,"}, Fact},
		{"way back of another quantity", []string{
			"convert,quantity=length; value=1 a,2,b,0," + book + ",published,",
			"convert,quantity=torque; value=2 b,1,a,0," + book + ",published,"}, Fact},
		{"factor and its inverse", []string{
			"factor,from=in,25.4,mm,0," + book + ",published,",
			"factor,from=mm,0.03937,in,places," + book + ",published,"}, Repeat},
		{"factor of another unit", []string{
			"factor,from=in,25.4,mm,0," + book + ",published,",
			"factor,from=ft,304.8,mm,0," + book + ",published,"}, Fact},
		{"another package's value", []string{"sum,a=1 mm; b=2 mm,3,mm,0," + book + ",published,the value of clearance/sum-1; with shells"}, Repeat},
		{"looked up", []string{"table,grade=IT7,21,µm,0," + book + ",published,"}, LookedUp},
		{"looked up twice", []string{
			"table,grade=IT7,21,µm,0," + book + ",published,",
			"table,grade=IT7,21,µm,0,Another book,published,"}, Repeat},
		{"handed back", []string{"plan,stages=prepare > tighten 29.5 lbf·ft > turn 45 °,29.50,lbf·ft,0," + book + ",published,"}, HandedBack},
		{"handed back from the low end", []string{"plan,stages=tighten 70..75 lbf·ft > turn 45 °,70,lbf·ft,0," + book + ",published,"}, HandedBack},
		{"handed back from the high end", []string{"plan,stages=tighten 70..75 lbf·ft,75,lbf·ft,0," + book + ",published,"}, HandedBack},
		{"the number with another unit", []string{"plan,stages=tighten 70 lbf·ft > turn 45 °,70,°,0," + book + ",published,"}, Fact},
		{"a part of the number", []string{"plan,stages=tighten 170 lbf·ft,70,lbf·ft,0," + book + ",published,"}, Fact},
		{"the unit as part of another", []string{"plan,stages=tighten 70 N·m,70,N,0," + book + ",published,"}, Fact},
		{"a text", []string{"plan,stages=70,seventy,,0," + book + ",published,"}, Fact},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			facts := tally{lookups: []string{"table"}, seen: map[string]bool{}}
			var got Standing
			for _, line := range test.rows {
				got = facts.standing(oneRow(t, "a,"+line))
			}
			if got != test.want {
				t.Errorf("%s, want %s", got, test.want)
			}
		})
	}
}

func TestCheckOriginals(t *testing.T) {
	report := func(pkg, line string) Report {
		return Report{Package: pkg, Outcomes: []Outcome{{Row: oneRow(t, line)}}}
	}
	first := report("clearance/isofit", "gap-1,sum,a=1,0.041,mm,0,A book; p. 1,published,")
	tests := []struct{ name, line, says string }{
		{"there", "b,sum,a=2,0.041,mm,0,A book; p. 1,published,the value of clearance/isofit/gap-1", ""},
		{"with more to say", "b,sum,a=2,0.0410,mm,0,A book; p. 2,published,\"the value of clearance/isofit/gap-1, through a family; new\"", ""},
		{"an interference", "b,sum,a=2,-0.041,mm,0,A book; p. 1,published,the value of clearance/isofit/gap-1; printed as an interference", ""},
		{"not there", "b,sum,a=2,0.041,mm,0,A book; p. 1,published,the value of clearance/gap-1", "no row clearance/gap-1"},
		{"another value", "b,sum,a=2,0.042,mm,0,A book; p. 1,published,the value of clearance/isofit/gap-1", "wants 0.041 mm of A book, and this row 0.042 mm"},
		{"another unit", "b,sum,a=2,0.041,in,0,A book; p. 1,published,the value of clearance/isofit/gap-1", "0.041 in"},
		{"another book", "b,sum,a=2,0.041,mm,0,Another book,published,the value of clearance/isofit/gap-1", "of Another book"},
		{"no package", "b,sum,a=2,0.041,mm,0,A book; p. 1,published,the value of gap-1", "write the value of PACKAGE/ID"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			err := CheckOriginals([]Report{first, report("grading", test.line)})
			if test.says == "" {
				if err != nil {
					t.Error(err)
				}
				return
			}
			if !errors.Is(err, ErrOriginal) || !strings.Contains(err.Error(), test.says) {
				t.Errorf("error %v, want one that says %q", err, test.says)
			}
		})
	}
}
