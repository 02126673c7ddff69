package job_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/internal/thorough"
	"example.com/closefit/units"
)

// TestFilmMessages: what is wrong with a [film] is one error, with its line, its key and what to write.
func TestFilmMessages(t *testing.T) {
	const oil = `oil = { name = "the lock's engine oil", cool = "104 mm²/s at 40 °C", warm = "14.1 mm²/s at 100 °C", density = "874 kg/m³", heat = "1.7 MPa" }`
	const pump = `pump = { delivery = "9 L/min", relief = "6.2 bar" }`
	for _, test := range []struct{ old, new, say string }{
		{oil, ``, `film: oil: missing; write oil = { grade = "15W-40"`},
		{oil, strings.Replace(oil, `name = `, `grade = "15W-40", name = `, 1), `film.oil.grade: a grade beside viscosities: given twice`},
		{oil, `oil = { grade = "15 by 40", density = "874 kg/m³", heat = "1.7 MPa" }`, `film.oil.grade: grade of the oil: no oil: "15 by 40"; write a grade of SAE J300`},
		{oil, `oil = { grade = "30", density = "874 kg/m³", heat = "1.7 MPa" }`, `write a grade with both parts`},
		{oil, strings.Replace(oil, ` at 40 °C`, ``, 1), `film.oil.cool: "104 mm²/s": missing; write a viscosity and where it holds, "92 mm²/s at 40 °C"`},
		{oil, strings.Replace(oil, `14.1 mm²/s`, `114 mm²/s`, 1), `write the larger viscosity at the lower temperature`},
		{oil, strings.Replace(oil, `heat = "1.7 MPa"`, `heat = "1.7 kPa"`, 1), `near 1.7 MPa for engine oil`},
		{oil, strings.Replace(oil, `heat`, `heet`, 1), `unknown key "heet" in film.oil; write heat`},
		{`inlet = "88 °C"`, `inlet = "88"`, `film.inlet: `},
		{`inlet = "88 °C"`, `inlet = "?"`, `film.inlet: `},
		{`inlet = "88 °C"`, `inlet = "880 °C"`, `write one from -40 to 250 °C`},
		{`load = "4.8 kN"`, `load = "0 kN"`, `write a load above zero`},
		{`load = "4.8 kN"`, `load = "480 kg"`, `film.rod.load: `},
		{`width = "20.4 mm"`, `width = "0 mm"`, `film.rod: width: no bearing: 0 mm; write a length above zero`},
		{`groove = "3 mm"`, `groove = "19 mm"`, `write a width above zero and below nine tenths of the bearing's`},
		{`groove = "3 mm"`, `#groove = "3 mm"`, `film.main.supply: a pressure without a groove that it stands in; write groove = "3 mm", or leave supply out`},
		{pump, `pump = { delivery = "0 L/min", relief = "6.2 bar" }`, `film.main: pump delivery: no bearing: 0 L/min; write a flow above zero`},
		{pump, `pump = { delivery = "9 L/min" }`, `film.main.pump.relief: missing; write relief = "..."`},
		{`journal = "0.2 µm", bearing`, `journal = "-0.2 µm", bearing`, `write roughnesses of zero or more`},
	} {
		t.Run(test.new, func(t *testing.T) {
			src := base(t)
			if !strings.Contains(src, test.old) {
				t.Fatalf("the demonstration has no %q", test.old)
			}
			_, err := job.Read("job.toml", []byte(strings.Replace(src, test.old, test.new, 1)))
			if err == nil {
				t.Fatal("no error")
			}
			if said := err.Error(); !strings.Contains(said, test.say) || wordOfGo.MatchString(said) || !strings.HasPrefix(said, "job.toml:") {
				t.Errorf("want one error that says\n%s\nhave\n%s", test.say, said)
			}
		})
	}
	head, _, _ := strings.Cut(base(t), "[film.main]")
	if _, err := job.Read("job.toml", []byte(head)); err == nil || !strings.Contains(err.Error(), "write [film.main] or [film.rod]") {
		t.Errorf("no bearing: %v", err)
	}
}

// films reads a job and works its films out.
func films(t *testing.T, ctx context.Context, src string) ([]job.Film, error) {
	t.Helper()
	j, err := job.Read("job.toml", []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	a, err := j.Assess(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return j.Films(ctx, a)
}

// TestFilms: the limits are among the points, the sweep goes below and above them, a reading has its range and one that is not there says so.
func TestFilms(t *testing.T) {
	thorough.Long(t) // a golden record of package record has films in any case
	list, err := films(t, t.Context(), base(t))
	if err != nil {
		t.Fatal(err)
	}
	if len(list) != 2 || list[0].Bearings != "main bearing" || list[1].Bearings != "rod bearing" {
		t.Fatalf("%d films", len(list))
	}
	for i, want := range []string{"0.053..0.087 mm", "0.045..0.074 mm"} {
		f := list[i]
		limits, err := units.Parse[units.LengthInterval](want)
		if err != nil {
			t.Fatal(err)
		}
		c := f.Curves[0]
		if !f.Limits.Equal(limits) || !c.Points[c.Lower].Clearance.Equal(limits.Lo()) || !c.Points[c.Upper].Clearance.Equal(limits.Hi()) {
			t.Errorf("%s: limits %v, points at %v and %v", f.Bearings, f.Limits, c.Points[c.Lower].Clearance, c.Points[c.Upper].Clearance)
		}
		if c.Lower == 0 || c.Upper == len(c.Points)-1 {
			t.Errorf("%s: nothing beyond a limit", f.Bearings)
		}
	}
	if p := list[0].Curves[0].Case.Pump; p == nil || p.Bearings != 5 { // five mains
		t.Errorf("pump %+v", p)
	}
	if r := list[0].Readings[3]; r.Location != "4" || r.Reason != "not measured" || len(r.Ranges) != 0 {
		t.Errorf("%+v", r)
	}
	if r := list[0].Readings[0]; r.Location != "1" || r.Reason != "" || len(r.Ranges) != 1 || r.Clearance.String() != "0.06..0.08 mm" {
		t.Errorf("%v, %q", r.Clearance, r.Reason)
	}
}

// TestFilmsRefuses: a job without limits to look between, and one that says nothing.
func TestFilmsRefuses(t *testing.T) {
	for _, limits := range []string{"?", "<= 0.087 mm", "0..0.087 mm"} {
		_, err := films(t, t.Context(), strings.Replace(base(t), `limits = "0.053..0.087 mm"`, `limits = "`+limits+`"`, 1))
		if !errors.Is(err, job.ErrNoFilm) || !strings.Contains(err.Error(), `[measure."main bearing clearance"] has not two limits above zero`) {
			t.Errorf("limits %s: %v", limits, err)
		}
	}
	none, _, _ := strings.Cut(base(t), "[film]")
	if _, err := films(t, t.Context(), none); !errors.Is(err, job.ErrNoFilm) || !strings.Contains(err.Error(), "[film] # invented figures") {
		t.Errorf("%v", err)
	}
	stopped, stop := context.WithCancel(t.Context())
	stop()
	if _, err := films(t, stopped, base(t)); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}

// TestNewOffersTheFilm: every key that -new offers is one that a job may have; what is still "?" is asked for.
func TestNewOffersTheFilm(t *testing.T) {
	src, err := job.Beginning{Cylinders: "4", Mains: "5", Rings: "ring", Passages: "gallery"}.File()
	if err != nil {
		t.Fatal(err)
	}
	before, offer, ok := strings.Cut(string(src), "#[film]\n")
	if !ok {
		t.Fatal("no offer")
	}
	offer, _, _ = strings.Cut(offer, "\n\n")
	_, err = job.Read("job.toml", []byte(before+"[film]\n"+strings.ReplaceAll("\n"+offer, "\n#", "\n")+"\n"))
	if err == nil {
		t.Fatal("no error for ?")
	}
	for line := range strings.Lines(err.Error()) {
		if !strings.Contains(line, "film.") || !strings.Contains(line, "?") {
			t.Errorf("%s", line)
		}
	}
}
