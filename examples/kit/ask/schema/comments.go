package schema

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
)

// packages are those whose types stand in questions and answers.
func packages() []string {
	return []string{"units", "units/measure", "clearance/stack", "grading", "grading/purchase", "torque", "examples/kit/ask/schema", "examples/kit/ask", "examples/kit/ask/whole"}
}

// read collects the comments of types and of their fields. Those of the questions themselves
// come last, and stand where two packages have a name in common.
func (m *maker) read(tree string, packages []string) error {
	for _, p := range packages {
		files, err := fs.Glob(os.DirFS(tree), p+"/*.go")
		if err != nil {
			return err
		}
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			parsed, err := parser.ParseFile(token.NewFileSet(), filepath.Join(tree, filepath.FromSlash(file)), nil, parser.ParseComments)
			if err != nil {
				return err
			}
			for _, d := range parsed.Decls {
				if g, is := d.(*ast.GenDecl); is && g.Tok == token.TYPE {
					for _, spec := range g.Specs {
						m.comment(spec.(*ast.TypeSpec), g.Doc)
					}
				}
			}
		}
	}
	return nil
}

func (m *maker) comment(spec *ast.TypeSpec, group *ast.CommentGroup) {
	doc := spec.Doc
	if doc == nil {
		doc = group
	}
	m.comments[spec.Name.Name] = said(doc)
	s, is := spec.Type.(*ast.StructType)
	if !is {
		return
	}
	for _, f := range s.Fields.List {
		for _, name := range f.Names {
			text := said(f.Doc)
			if text == "" {
				text = said(f.Comment)
			}
			m.comments[spec.Name.Name+"."+name.Name] = text
		}
	}
}

// none is what Go calls null.
var none = regexp.MustCompile(`\b[Nn]il(, in JSON null,?)?( |\b)`)

// said is a comment as one line for each paragraph.
func said(c *ast.CommentGroup) string {
	if c == nil {
		return ""
	}
	var paragraphs []string
	for p := range strings.SplitSeq(strings.TrimSpace(c.Text()), "\n\n") {
		paragraphs = append(paragraphs, strings.Join(strings.Fields(p), " "))
	}
	return none.ReplaceAllStringFunc(strings.Join(paragraphs, "\n"), func(nil string) string {
		null := "null"
		if strings.HasPrefix(nil, "N") {
			null = "Null"
		}
		if strings.HasSuffix(nil, " ") {
			null += " "
		}
		return null
	})
}
