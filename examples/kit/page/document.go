package page

import (
	"embed"
	"encoding/base64"
	"io"
	"strings"
)

// A Document is a page in its frame: title, style, policy, scripts and content.
type Document struct {
	Title string
	Style string // rules of its own, after those of [Style]; written so that it cannot end its element
	Body  Markup

	// Scripts are run in this order, as one module, when the page has been read. Without one the
	// page's policy allows no script at all.
	Scripts []Script
	// Hash is sha256.Sum256 where there are Scripts: the policy allows these and no others. It is asked for
	// so that a page without scripts does not keep it in a program.
	Hash func([]byte) [32]byte
	// Apart are run by a worker, which answers while the page draws. A script starts it from the block with the id apart. It is no
	// module, for a page that was opened from a file may not start one: what they export is only declared.
	Apart []Script
	// WebAssembly says that the scripts may compile a module, and Connect that they may ask the place the page came from.
	WebAssembly, Connect bool
	// Blocks are what the scripts read and nobody runs.
	Blocks []Block
}

// A Script is a text of the program that runs in a page.
type Script struct{ text string }

// ScriptOf returns a script that is built into the program. It panics where there is none of the name.
func ScriptOf(built embed.FS, name constant) Script {
	text, err := built.ReadFile(string(name))
	if err != nil {
		panic("page: " + err.Error() + "; name a file that is embedded")
	}
	return Script{string(text)}
}

// A Block is bytes in a page, which a script finds by id.
type Block struct {
	ID   string
	Data []byte // written in base64
}

// ends are what would end a style sheet or a script, or make a reader look for the end elsewhere.
// In texts of both languages the backslash changes nothing.
var ends = strings.NewReplacer("</s", `<\/s`, "</S", `<\/S`, "<!--", `<\!--`)

// Policy returns the document's Content-Security-Policy, for who sends it as a header too.
func (d Document) Policy() string {
	p := "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'"
	if len(d.Scripts) > 0 {
		if d.Hash == nil {
			panic("page: a Document with Scripts needs Hash; write sha256.Sum256")
		}
		sum := d.Hash([]byte(script(d.Scripts)))
		p += "; script-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
		if d.WebAssembly {
			p += " 'wasm-unsafe-eval'"
		}
		if len(d.Apart) > 0 {
			p += "; worker-src blob:"
		}
	}
	if d.Connect {
		p += "; connect-src 'self'"
	}
	return p
}

// script is the text of all of them.
func script(all []Script) string {
	var b strings.Builder
	b.WriteByte('\n')
	for _, s := range all {
		b.WriteString(ends.Replace(s.text))
		b.WriteByte('\n')
	}
	return b.String()
}

// Write writes the document.
func (d Document) Write(w io.Writer) error {
	var b strings.Builder
	b.Grow(len(Style) + len(d.Style) + 1024)
	escaped := func(text string) string { return Join(Text(text)).String() }
	b.WriteString("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n" +
		"<meta http-equiv=\"Content-Security-Policy\" content=\"" + escaped(d.Policy()) + "\">\n" +
		"<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<meta name=\"referrer\" content=\"no-referrer\">\n" +
		"<title>" + escaped(d.Title) + "</title>\n<style>\n")
	b.WriteString(ends.Replace(strings.ToValidUTF8(Style+d.Style, "\uFFFD")))
	b.WriteString("</style>\n</head>\n<body>\n")
	var body sink
	body.WriteString(b.String())
	body.write(d.Body)
	b.Reset()
	blocks := d.Blocks
	if len(d.Apart) > 0 {
		blocks = append([]Block{{ID: "apart", Data: []byte(strings.ReplaceAll(script(d.Apart), "\nexport ", "\n"))}}, blocks...)
	}
	for _, x := range blocks {
		b.WriteString("<script type=\"application/octet-stream\" id=\"" + escaped(x.ID) + "\">" + base64.StdEncoding.EncodeToString(x.Data) + "</script>\n")
	}
	if len(d.Scripts) > 0 {
		b.WriteString("<script type=\"module\">" + script(d.Scripts) + "</script>\n")
	}
	b.WriteString("</body>\n</html>\n")
	body.WriteString(b.String())
	m := body.markup()
	if m.long == nil {
		m.long = []string{m.html}
	}
	for _, piece := range m.long {
		if _, err := io.WriteString(w, piece); err != nil {
			return err
		}
	}
	return nil
}
