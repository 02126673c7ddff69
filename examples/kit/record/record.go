package record

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"example.com/closefit/examples/kit/job"
)

// A Format is a form that a record is written in.
type Format string

const (
	Text Format = "text"
	JSON Format = "json"
	HTML Format = "html"
	SVG  Format = "svg" // the bench card alone, as a picture
)

// Formats returns the formats that every report is written in.
func Formats() []Format { return []Format{Text, JSON, HTML} }

// ParseFormat reads the name of one of Formats, or of more that a program writes. The error
// names those there are.
func ParseFormat(s string, more ...Format) (Format, error) {
	if f := Format(s); slices.Contains(append(Formats(), more...), f) {
		return f, nil
	}
	text := fmt.Sprintf("format %q; write text, json or html", s)
	for _, f := range more {
		text += ", or " + string(f)
	}
	return "", errors.New(text)
}

// Write writes the record of an assessment.
func Write(w io.Writer, f Format, a *job.Assessment) error {
	switch f {
	case Text:
		return writeText(w, a)
	case JSON:
		return writeJSON(w, a)
	case HTML:
		return writeHTML(w, a)
	case SVG:
		return writeSVG(w, a)
	}
	_, err := ParseFormat(string(f), SVG)
	return err
}

// measured says when and by whom the readings were taken, if the job does.
func measured(a *job.Assessment) string {
	switch {
	case a.Date != "" && a.By != "":
		return "Measured " + a.Date + " by " + a.By + "."
	case a.Date != "":
		return "Measured " + a.Date + "."
	case a.By != "":
		return "Measured by " + a.By + "."
	}
	return ""
}

// heading names a group and the limits that its findings share.
func heading(g job.Group) string {
	return title(strings.TrimSpace(g.Name+" "+g.Quantity)) + ", limits " + g.Limits
}

// title makes the first letter a capital.
func title(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
