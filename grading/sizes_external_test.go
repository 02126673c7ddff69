package grading_test

import (
	"errors"
	"strings"
	"testing"

	"example.com/closefit/grading"
)

// TestSizesInProportion: sizes at the bound of what is in proportion are taken, and those just
// beyond are refused. The figures are invented to be asymmetric, and are no engine's.
func TestSizesInProportion(t *testing.T) {
	for _, test := range []struct {
		name             string
		housing, journal []string
		walls            []string
		limits           string
		fault            string // where; none if empty
	}{
		// Twice the thinnest wall is 2 × 2.000 mm.
		{"a wall twice another", nil, nil, []string{"2.000..2.100 mm", "3.900..4.000 mm"}, "", ""},
		{"a wall more than twice another", nil, nil, []string{"2.000..2.100 mm", "3.900..4.001 mm"}, "", "shell red"},
		// 1.1 × 60.000 = 66.000.
		{"a bore a tenth larger", []string{"60.000..60.100 mm", "65.900..66.000 mm"}, nil, nil, "", ""},
		{"a bore more than a tenth larger", []string{"60.000..60.100 mm", "65.900..66.001 mm"}, nil, nil, "", "housing A"},
		{"a journal more than a tenth larger", nil, []string{"60.000..60.100 mm", "65.900..66.001 mm"}, nil, "", "journal 1"},
		{"a bore larger than the journal", []string{"60.101..60.200 mm"}, []string{"60.000..60.100 mm"}, nil, "", ""},
		{"a bore that may be no larger", []string{"60.100..60.200 mm"}, []string{"60.000..60.100 mm"}, nil, "", "housing A, journal 1"},
		// The largest bore less the smallest journal is 64.200 - 60.000 = 4.200.
		{"a wall that may just have room", []string{"64.000..64.200 mm"}, []string{"60.000..60.200 mm"}, []string{"4.199..4.300 mm"}, "", ""},
		{"a wall without room", []string{"64.000..64.200 mm"}, []string{"60.000..60.200 mm"}, []string{"4.200..4.300 mm"}, "", "shell blue"},
		// A hundredth of 60.000 is 0.600.
		{"limits of a hundredth of the journal", nil, []string{"60.000..60.500 mm"}, nil, "0.300..0.600 mm", ""},
		{"limits of more", nil, []string{"60.000..60.500 mm"}, nil, "0.300..0.601 mm", "limits"},
		{"limits as wide as the wall", nil, nil, []string{"2.000..2.500 mm"}, "1.000..2.000 mm", ""},
		{"limits wider than the wall", nil, nil, []string{"2.000..2.500 mm"}, "1.000..2.001 mm", "limits"},
		{"limits a hundred times each other", nil, nil, nil, "0.010..1.000 mm", ""},
		{"limits more than that", nil, nil, nil, "0.010..1.001 mm", "limits"},
		{"limits from nothing", nil, nil, nil, "0..1 mm", ""},
		{"an upper limit alone", nil, nil, nil, "<= 1 mm", ""},
	} {
		grades := []string{"red", "blue"}
		s := &grading.Scheme{Name: "sized", Mix: 1}
		for i, code := range []string{"A", "B"} {
			s.Housing = append(s.Housing, grading.Code{Code: code, Shell: grades[i]})
			s.Journal = append(s.Journal, grading.Code{Code: []string{"1", "2"}[i], Shell: grades[i]})
		}
		for i, text := range test.housing {
			s.Housing[i].Size = size(text)
		}
		for i, text := range test.journal {
			s.Journal[i].Size = size(text)
		}
		for i, text := range test.walls {
			s.Shells = append(s.Shells, grading.Shell{Grade: grades[i], Wall: size(text)})
		}
		if len(test.walls) == 1 { // the codes call for both, and walls alike are in proportion
			s.Shells = append(s.Shells, grading.Shell{Grade: "blue", Wall: size(test.walls[0])})
		}
		if test.limits != "" {
			s.Limits = size(test.limits)
		}
		err := s.Validate()
		if (err == nil) != (test.fault == "") || err != nil && (!errors.Is(err, grading.ErrScheme) || !strings.Contains(err.Error(), test.fault)) {
			t.Errorf("%s: %v, want a fault at %q", test.name, err, test.fault)
		}
	}
}
