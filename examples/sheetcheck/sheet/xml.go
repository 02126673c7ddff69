package sheet

import (
	"archive/zip"
	"bufio"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"

	"golang.org/x/text/encoding/htmlindex"
)

// deepest is how deep the elements of a part may stand in one another.
const deepest = 64

// An xmlPart reads one part of a workbook, token by token, within bounds. Names keep
// the prefix of their namespace apart, and what it stands for is not looked up.
type xmlPart struct {
	decoder *xml.Decoder
	in      *pieceReader
	open    []xml.Name // elements that are not closed yet
}

func newXMLPart(r io.Reader) *xmlPart {
	in := &pieceReader{Reader: r}
	return &xmlPart{decoder: newDecoder(bufio.NewReaderSize(in, 64<<10)), in: in}
}

func newDecoder(r io.Reader) *xml.Decoder {
	d := xml.NewDecoder(r)
	d.CharsetReader = func(label string, r io.Reader) (io.Reader, error) {
		e, err := htmlindex.Get(label)
		if err != nil {
			return nil, fmt.Errorf("the encoding %q is not known", label)
		}
		return e.NewDecoder().Reader(r), nil
	}
	return d
}

// openPart opens a part, no more of it than it says that it unpacks to.
func openPart(f *zip.File) (*xmlPart, io.Closer, error) {
	r, err := f.Open()
	if err != nil {
		return nil, nil, err
	}
	return newXMLPart(io.LimitReader(r, int64(f.UncompressedSize64))), r, nil
}

// next returns the next token, good until the one after it.
func (p *xmlPart) next() (xml.Token, error) {
	p.in.begin()
	token, err := p.decoder.RawToken()
	if err != nil {
		return nil, damaged(err)
	}
	switch t := token.(type) {
	case xml.StartElement:
		if p.open = append(p.open, t.Name); len(p.open) > deepest {
			return nil, fmt.Errorf("damaged: elements more than %d deep in one another", deepest)
		}
	case xml.EndElement:
		last := len(p.open) - 1
		if last < 0 || p.open[last] != t.Name {
			return nil, fmt.Errorf("damaged: </%s> closes no element", t.Name.Local)
		}
		p.open = p.open[:last]
	case xml.Directive:
		return nil, errors.New("damaged: a document type")
	}
	return token, nil
}

// skip reads past the element that begins with the token read last.
func (p *xmlPart) skip() error {
	for depth := len(p.open); len(p.open) >= depth; {
		if _, err := p.next(); err != nil {
			return err
		}
	}
	return nil
}

// damaged says what is wrong with a part.
func damaged(err error) error {
	var syntax *xml.SyntaxError
	switch {
	case errors.Is(err, ErrBound):
		return &BoundError{What: "a tag or a text without an end", Most: fmt.Sprintf("%d KB are read for one", longPiece>>10)}
	case err == io.EOF, errors.As(err, &syntax) && syntax.Msg == "unexpected EOF":
		return errors.New("damaged: it ends in the middle")
	}
	return fmt.Errorf("damaged: %w", err)
}

// attribute returns the value of an attribute without a namespace, or nothing.
func attribute(e *xml.StartElement, name string) string {
	for i := range e.Attr {
		if a := &e.Attr[i]; a.Name.Local == name && a.Name.Space == "" {
			return a.Value
		}
	}
	return ""
}

// escape is how a workbook writes a character that XML cannot hold: ISO/IEC 29500-1,
// 22.9.2.19.
var escape = regexp.MustCompile(`_x[0-9A-Fa-f]{4}_`)

// unescaped reads the escapes in a workbook's text.
func unescaped(text string) string {
	if !strings.Contains(text, "_x") {
		return text
	}
	return escape.ReplaceAllStringFunc(text, func(e string) string {
		n, err := strconv.ParseUint(e[2:6], 16, 16)
		if err != nil {
			return e
		}
		return string(rune(n))
	})
}

// sharedTexts are the texts that a workbook keeps once for all of its cells, end to
// end: they may be millions.
type sharedTexts struct {
	all  []byte
	ends []uint32
}

// at returns a text by its number, as a cell has it.
func (t *sharedTexts) at(number string) (string, error) {
	i, err := strconv.Atoi(strings.TrimSpace(number))
	if err != nil || i < 0 || i >= len(t.ends) {
		return "", fmt.Errorf("damaged: shared text %q of %d", number, len(t.ends))
	}
	start := uint32(0)
	if i > 0 {
		start = t.ends[i-1]
	}
	return unescaped(string(t.all[start:t.ends[i]])), nil
}

// readTexts reads the shared texts of a workbook; f is nil if it has none.
func readTexts(f *zip.File) (*sharedTexts, error) {
	t := &sharedTexts{}
	if f == nil {
		return t, nil
	}
	p, closer, err := openPart(f)
	if err != nil {
		return nil, err
	}
	defer closer.Close()
	var shown visible
	for {
		token, err := p.next()
		if err != nil {
			return nil, fmt.Errorf("shared texts: %w", err)
		}
		shown.take(token)
		switch e := token.(type) {
		case xml.CharData:
			if shown.is() {
				t.all = append(t.all, e...)
			}
		case xml.EndElement:
			switch e.Name.Local {
			case "si":
				t.ends = append(t.ends, uint32(len(t.all)))
			case "sst":
				return t, nil
			}
		}
	}
}

// visible follows the tokens of a text with runs: what stands in t elements is seen,
// unless it says how characters are pronounced.
type visible struct{ text, aloud bool }

func (v *visible) take(token xml.Token) {
	switch e := token.(type) {
	case xml.StartElement:
		v.text = e.Name.Local == "t"
		v.aloud = v.aloud || e.Name.Local == "rPh"
	case xml.EndElement:
		v.text = false
		v.aloud = v.aloud && e.Name.Local != "rPh"
	}
}

func (v *visible) is() bool { return v.text && !v.aloud }
