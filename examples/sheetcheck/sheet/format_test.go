package sheet

import "testing"

// TestParseFormat: codes that office programs write, ISO/IEC 29500-1, 18.8.31.
func TestParseFormat(t *testing.T) {
	for code, want := range map[string]Format{
		"General":                       {FormatGeneral, -1, ""},
		"":                              {FormatGeneral, -1, ""},
		"0":                             {FormatFixed, 0, ""},
		"0.000":                         {FormatFixed, 3, ""},
		"#,##0.00":                      {FormatFixed, 2, ""},
		`0.000" mm"`:                    {FormatFixed, 3, "mm"},
		`0.000\ "mm"`:                   {FormatFixed, 3, "mm"},
		`0.0000\"`:                      {FormatFixed, 4, `"`},
		"0\u00a0\"µm\"":                 {FormatFixed, 0, "µm"},
		`0.0_)" N·m";[Red]-0.0" N·m"`:   {FormatFixed, 1, "N·m"},
		`"Ø "0.000`:                     {FormatFixed, 3, ""},
		`General" mm"`:                  {FormatGeneral, -1, "mm"},
		"0.0%":                          {FormatPercent, 1, ""},
		"0.00E+00":                      {FormatScientific, 2, ""},
		"# ?/?":                         {FormatFraction, -1, ""},
		"yyyy-mm-dd":                    {FormatDate, -1, ""},
		"[h]:mm":                        {FormatDate, -1, ""},
		"dd.mm.yy hh:mm":                {FormatDate, -1, ""},
		"@":                             {FormatText, -1, ""},
		`0.00\ [$€-407]`:                {FormatFixed, 2, "€"},
		`[>=0.05]0.000" mm";0" µm"`:     {FormatFixed, 3, "mm"},
		`0.000" mm`:                     {FormatFixed, 3, "mm"},
		`0.00\`:                         {FormatFixed, 2, ""},
		`*`:                             {FormatGeneral, -1, ""},
		"[":                             {FormatGeneral, -1, ""},
		"0.00_":                         {FormatFixed, 2, ""},
		`0.0;"mm"0.00`:                  {FormatFixed, 1, ""},
		"0.0##":                         {FormatFixed, 3, ""},
		`"reading "0.000" in ""dial"""`: {FormatFixed, 3, "in dial"},
	} {
		if got := parseFormat(code); got != want {
			t.Errorf("%q is %+v, want %+v", code, got, want)
		}
	}
}

func FuzzParseFormat(f *testing.F) {
	f.Add(`0.000" mm";[Red]\-0_)`)
	f.Add(`[$€-407]* "`)
	f.Fuzz(func(t *testing.T, code string) {
		if got := parseFormat(code); got.Places < -1 || got.Places > len(code) || len(got.Unit) > len(code) {
			t.Errorf("%q is %+v", code, got)
		}
	})
}

// TestOpenFormula: OpenDocument 1.3, part 4, as workbooks write the same.
func TestOpenFormula(t *testing.T) {
	for open, want := range map[string]string{
		"of:=[.B7]-SUM([.C7:.E7];[$Limits.$B$2])":              "B7-SUM(C7:E7,Limits!$B$2)",
		"of:=[$'Main''s; 1'.B3:.C4]":                           "'Main''s; 1'!B3:C4",
		"of:=[Limits.B2:Limits.B3]":                            "Limits!B2:B3",
		"of:=[Limits.B2:Other.B3]":                             "Limits:Other!B2:B3",
		"of:=[.B:.B]+[.3:.$3]":                                 "B:B+3:$3",
		"of:=SUM({1;2|3;4})":                                   "SUM({1,2;3,4})",
		`of:=IF([.A1]>0;"a;b|[c]""d";1)`:                       `IF(A1>0,"a;b|[c]""d",1)`,
		"of:=COM.MICROSOFT.XLOOKUP([.A1];[.B1:.B4];[.C1:.C4])": "XLOOKUP(A1,B1:B4,C1:C4)",
		"of:=[.A1:.B2]![.B2:.C3]":                              "A1:B2 B2:C3",
		"of:=SUM([.A1]~[.B2])":                                 "SUM(A1,B2)",
		"of:=[.#REF!]+1":                                       "#REF!+1",
		"of:=[#REF!.B2]":                                       "#REF!",
		"of:==[.A1]":                                           "A1",
		"oooc:=[.A1]*2":                                        "A1*2",
		"msoxl:=SUM(A1;B2)":                                    "SUM(A1;B2)",
		"of:=[.A1":                                             "A1",
		`of:="open`:                                            `"open`,
		"":                                                     "",
	} {
		if got := openFormula(open); got != want {
			t.Errorf("%q is %q, want %q", open, got, want)
		}
	}
}

func FuzzOpenFormula(f *testing.F) {
	f.Add("of:=[.B7]-SUM([.C7:.E7];[$'a''b'.$B$2])")
	f.Fuzz(func(t *testing.T, text string) {
		if got := openFormula(text); len(got) > 2*len(text)+8 {
			t.Errorf("%q becomes %q", text, got)
		}
	})
}
