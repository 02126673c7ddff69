package sheet

import (
	"context"
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// marksOf reads the marks of a sheet's XML.
func marksOf(text string) (rows []markedRow, err error) {
	out := make(chan []markedRow)
	failed := make(chan error, 1)
	go func() {
		failed <- newMarkReader(strings.NewReader(text), "sheet", DefaultBounds()).read(context.Background(), out)
		close(out)
	}()
	for batch := range out {
		rows = append(rows, batch...)
	}
	return rows, <-failed
}

// slowMarks is the plain way to the same, by encoding/xml. Shared formulas are
// left as they are written.
func slowMarks(text string) (rows []markedRow, err error) {
	decoder := xml.NewDecoder(strings.NewReader(text))
	var cell *mark
	formula := false
	for {
		token, err := decoder.Token()
		if err == io.EOF {
			return rows, nil
		}
		if err != nil {
			return nil, err
		}
		switch t := token.(type) {
		case xml.StartElement:
			attributes := map[string]string{}
			for _, a := range t.Attr {
				if a.Name.Space == "" {
					attributes[a.Name.Local] = a.Value
				}
			}
			switch t.Name.Local {
			case "row":
				n, err := strconv.Atoi(attributes["r"])
				if err != nil {
					return nil, err
				}
				rows = append(rows, markedRow{number: n})
			case "c":
				p, err := ParsePlace(attributes["r"])
				if err != nil {
					return nil, err
				}
				row := &rows[len(rows)-1]
				row.last = max(row.last, p.Column)
				cell = &mark{column: p.Column, asText: attributes["t"] == "s" || attributes["t"] == "str" || attributes["t"] == "inlineStr"}
			case "f":
				formula = true
			}
		case xml.CharData:
			if formula {
				cell.formula += string(t)
			}
		case xml.EndElement:
			switch t.Name.Local {
			case "f":
				formula = false
			case "c":
				if cell.asText || cell.formula != "" {
					row := &rows[len(rows)-1]
					row.marks = append(row.marks, *cell)
				}
			}
		}
	}
}

// TestMarksLikeXML: the quick reader finds what encoding/xml finds.
func TestMarksLikeXML(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pick := func(label string, texts ...string) string { return rapid.SampledFrom(texts).Draw(t, label) }
		prefix := pick("prefix", "", "", "x:")
		var b strings.Builder
		fmt.Fprintf(&b, `<?xml version="1.0"?><!-- <c> --><%sworksheet xmlns="a" xmlns:x="b"><%ssheetData>`, prefix, prefix)
		for n := range rapid.IntRange(0, 6).Draw(t, "rows") {
			fmt.Fprintf(&b, `<%srow%sr="%d"%s>`, prefix, pick("space", " ", "\n ", "\t"), n*3+1, pick("more", "", ` spans='1:9'`, ` x:r="99"`))
			for column := range rapid.IntRange(0, 5).Draw(t, "cells") {
				value := pick("value", "", "<v>1.5</v>", "<v/>", "<is><t>a &gt; b</t></is>", "<v><![CDATA[</c>]]></v>", "<!-- </c> -->", strings.Repeat("long ", 20_000))
				formula := pick("formula", "", "<f>A1+B2</f>", "<f aca='false'>IF(A1&lt;2,&quot;x&quot;,3)</f>", "<f/>", "<f><![CDATA[A1<2]]>+1</f>", "<f>A1<!-- no -->+2</f>", "<f t=\"array\">A1&#43;2</f>")
				formula = strings.NewReplacer("<f", "<"+prefix+"f", "</f", "</"+prefix+"f").Replace(formula)
				fmt.Fprintf(&b, `<%sc %s r = "%s"%s>%s%s</%sc>`, prefix, pick("style", "", `s="1"`, `x:t="s"`, `note="a>b/"`), Place{n*3 + 1, column + 1}, pick("type", "", ` t="s"`, ` t='str'`, ` t="n"`, ` t="inlineStr"`), formula, value, prefix)
			}
			fmt.Fprintf(&b, "</%srow >", prefix)
		}
		fmt.Fprintf(&b, "</%ssheetData></%sworksheet>", prefix, prefix)
		want, err := slowMarks(b.String())
		if err != nil {
			t.Fatalf("%v in %s", err, b.String())
		}
		got, err := marksOf(b.String())
		if err != nil {
			t.Fatalf("%v in %s", err, b.String())
		}
		if diff := cmp.Diff(want, got, cmp.AllowUnexported(markedRow{}, mark{})); diff != "" {
			t.Fatalf("%s in %s", diff, b.String())
		}
	})
}

// TestSharedFormulas: written once, read in every cell.
func TestSharedFormulas(t *testing.T) {
	rows, err := marksOf(`<sheetData><row r="5"><c r="F5"><f t="shared" ref="F5:F7" si="0">B5-C$5</f></c></row><row r="6"><c r="F6"><f t="shared" si="0"/></c></row><row r="7"><c r="F7"><f t="shared" si="0"></f></c></row><row r="8"><c r="F8"><f t="shared" si="1"/></c></row></sheetData>`)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, r := range rows {
		for _, m := range r.marks {
			got = append(got, m.formula)
		}
	}
	if want := "B5-C$5 B6-C$5 B7-C$5"; strings.Join(got, " ") != want {
		t.Errorf("formulas are %q, want %s", got, want)
	}
}

func FuzzMarks(f *testing.F) {
	f.Add(`<sheetData><row r="1"><c r="A1" t="s"><f>A1&lt;2</f><v>1</v></c></row></sheetData>`)
	f.Add(`<!--<![CDATA[<?<row><c`)
	f.Add(`<!DOCTYPE x [<!ENTITY a "b">]><sheetData/>`)
	f.Fuzz(func(t *testing.T, text string) {
		rows, err := marksOf(text)
		for _, r := range rows {
			if r.number < 1 || r.last > DefaultBounds().Columns {
				t.Errorf("row %d up to column %d, error %v", r.number, r.last, err)
			}
		}
	})
}
