package main

import (
	"bytes"
	_ "embed"
	"strings"
	"text/template"
)

//go:embed first-steps.txt
var firstSteps string

// firstSteps is the page for somebody without Go: for the programs of a system, "linux", "windows" or
// "darwin", or for "bench", "lessons" or "javascript".
func (s *stage) firstSteps(of string) (file, error) {
	t, err := template.New("").Parse(firstSteps)
	if err != nil {
		return file{}, err
	}
	var b bytes.Buffer
	if err := t.Execute(&b, map[string]string{"For": of, "Version": s.version, "Name": s.name(of)}); err != nil {
		return file{}, err
	}
	text := b.String()
	if of == "windows" {
		text = strings.ReplaceAll(text, "\n", "\r\n")
	}
	return file{"FIRST-STEPS.txt", false, []byte(text)}, nil
}
