package grading_test

import (
	"bytes"
	"context"
	"encoding/json"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/grading"
	"example.com/closefit/units"
)

// survives checks that a value survives JSON, and that no key of it, nor of what lies in
// it, can be left out, and none added.
func survives[T any](t *rapid.T, value T) {
	text, err := json.Marshal(value)
	if err != nil {
		t.Fatal(err)
	}
	var back T
	if err := json.Unmarshal(text, &back); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	if again, err := json.Marshal(back); err != nil || !bytes.Equal(again, text) {
		t.Fatalf("%v\n%s\nbecame\n%s", err, text, again)
	}
	var object any
	if err := json.Unmarshal(text, &object); err != nil {
		t.Fatal(err)
	}
	check := func(what string) {
		altered, err := json.Marshal(object)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(altered, &back); err == nil {
			t.Fatalf("%s, and it was taken: %s", what, altered)
		}
	}
	// Of a small value every key in turn, of a large one some of them.
	var tries []func()
	eachObject(object, func(object map[string]any) {
		for key, value := range object {
			tries = append(tries, func() {
				delete(object, key)
				check("without " + key)
				object[key] = value
			})
		}
		tries = append(tries, func() {
			object["more"] = 1
			check("one key more")
			delete(object, "more")
		})
	})
	const most = 20
	from := rapid.IntRange(0, max(0, len(tries)-most)).Draw(t, "keys from")
	for _, try := range tries[from:min(len(tries), from+most)] {
		try()
	}
	if err := json.Unmarshal([]byte("{}"), &back); err == nil {
		t.Fatalf("{} is a %T", back)
	}
}

func eachObject(v any, do func(map[string]any)) {
	switch v := v.(type) {
	case map[string]any:
		for _, inner := range v {
			eachObject(inner, do)
		}
		do(v)
	case []any:
		for _, inner := range v {
			eachObject(inner, do)
		}
	}
}

func TestExchangeForm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom([]func() *grading.Scheme{pumpSet, rodScheme, sumScheme, stepped}).Draw(t, "scheme")()
		s.Mix = rapid.SampledFrom([]grading.Mix{grading.SameGrade, grading.Neighbours, grading.AnyGrades}).Draw(t, "mix")
		if rapid.Bool().Draw(t, "families") {
			s.Families = []grading.Family{{Name: "0.25", Undersize: units.MustParseLength("0.25 mm")}}
		}
		survives(t, *s)
		s.Families = nil
		read := func(side grading.Side) grading.RowReading {
			codes := append(s.Codes(side), "?")
			words := make([]string, 3)
			for i := range words {
				words[i] = rapid.SampledFrom(codes).Draw(t, "code")
			}
			r, err := grading.Row{Text: strings.Join(words, " "), Side: side, Codes: s.Codes(side), Locations: threeMains}.Read()
			if err != nil {
				t.Fatal(err)
			}
			survives(t, r)
			return r
		}
		list, err := s.Assign(read(grading.Housing), read(grading.Journal))
		if err != nil {
			t.Fatal(err)
		}
		survives(t, list[0])
	})
}

func TestExchangeFormOfSizes(t *testing.T) {
	s := stepped()
	audit, err := s.Audit()
	if err != nil {
		t.Fatal(err)
	}
	audit.Cells[0].Inside = audit.Cells[0].Inside[:1]
	rapid.Check(t, func(t *rapid.T) {
		some := *audit
		some.Cells = audit.Cells[:rapid.IntRange(0, 1).Draw(t, "cells")]
		survives(t, some)
		micrometres := func(label string) units.Length { return units.Micrometre.OfInt(rapid.Int64Range(0, 5).Draw(t, label)) }
		site := grading.Site{Location: "main 1", Housing: units.PlusMinus(units.MustParseLength("64.003 mm"), micrometres("bore")),
			Journal: units.PlusMinus(units.MustParseLength("59.973 mm"), micrometres("journal"))}
		survives(t, site)
		row := func(side grading.Side, code string) grading.RowReading {
			r, err := grading.Row{Text: code, Side: side, Codes: s.Codes(side), Locations: []string{"main 1"}}.Read()
			if err != nil {
				t.Fatal(err)
			}
			return r
		}
		list, err := s.Compare(row(grading.Housing, "?"), row(grading.Journal, "1"), []grading.Site{site})
		if err != nil {
			t.Fatal(err)
		}
		survives(t, list[0])
		washers := steps()
		survives(t, washers)
		survives(t, grading.Thrust{Location: "main 3", Room: size("5.15 mm")})
		survives(t, grading.Thrust{Location: "main 3", EndPlay: size("0.1..0.2 mm"), Fitted: washers.Sizes[:2]})
	})
}

func TestExchangeFormOfPlans(t *testing.T) {
	places, o := oddHalf(t)
	plan, err := choose(context.Background(), places, o)
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		some := *plan
		some.Choices = plan.Choices[:rapid.IntRange(0, len(plan.Choices)).Draw(t, "choices")]
		if !rapid.Bool().Draw(t, "trades") {
			some.Trades = nil
		}
		some.Complete = rapid.Bool().Draw(t, "complete")
		survives(t, some)
	})
}

func TestWordsOfTheExchangeForm(t *testing.T) {
	var side grading.Side
	var rule grading.Rule
	var mix grading.Mix
	var half grading.Half
	var part grading.Part
	for text, into := range map[string]any{`"left"`: &side, `"guess"`: &rule, `"some"`: &mix, `"middle"`: &half, `" upper"`: &part, `""`: &side} {
		if err := json.Unmarshal([]byte(text), into); err == nil {
			t.Errorf("%s is a %T", text, into)
		}
	}
	// A grade that ends in the word of a half stays what it is.
	for _, p := range []grading.Part{{Grade: "rear"}, {Grade: "red Upper"}, {Grade: "red upper", Half: grading.Lower}} {
		text, err := json.Marshal(p)
		var back grading.Part
		if errBack := json.Unmarshal(text, &back); err != nil || errBack != nil || back != p {
			t.Errorf("%s: %#v, %v, %v", text, back, err, errBack)
		}
	}
}
