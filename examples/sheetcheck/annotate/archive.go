package annotate

import (
	"archive/zip"
	"context"
	"errors"
	"fmt"
	"io"
	"maps"
	"path"
	"slices"
	"strconv"
	"strings"
	"time"
)

// An archive is a workbook's parts, those that change, and those that are new.
type archive struct {
	files  *zip.Reader
	byName map[string]*zip.File // by names in small letters
	held   map[*zip.File]*document
	edits  map[*zip.File][]edit // of parts that are not held
	added  []addition
	fresh  []freshPart
	types  *document
	rels   map[string]*relations // by the part's name in small letters
	now    time.Time
}

// An addition is a new part.
type addition struct {
	name string
	data []byte
}

// A freshPart is a new part that grows until all is known.
type freshPart struct {
	name, contentType string
	doc               *document
}

func newArchive(files *zip.Reader, now time.Time) (*archive, error) {
	a := &archive{files: files, now: now, byName: map[string]*zip.File{}, held: map[*zip.File]*document{}, edits: map[*zip.File][]edit{}, rels: map[string]*relations{}}
	for _, f := range files.File {
		a.byName[strings.ToLower(strings.ReplaceAll(f.Name, `\`, "/"))] = f
	}
	var err error
	a.types, err = a.document("[Content_Types].xml")
	return a, err
}

// has reports whether there is a part of a name, or one is added, or a type is said of it.
func (a *archive) has(name string) bool {
	if a.byName[strings.ToLower(name)] != nil || a.typed(name) {
		return true
	}
	for _, n := range a.added {
		if strings.EqualFold(n.name, name) {
			return true
		}
	}
	return false
}

// document returns a part that is held whole, always the same.
func (a *archive) document(name string) (*document, error) {
	f := a.byName[strings.ToLower(name)]
	if f == nil {
		return nil, fmt.Errorf("damaged: the workbook lacks the part %s", name)
	}
	if d := a.held[f]; d != nil {
		return d, nil
	}
	data, err := read(f)
	if err != nil {
		return nil, fmt.Errorf("part %s: %w", name, err)
	}
	d, err := parse(data)
	if err != nil {
		return nil, fmt.Errorf("part %s: %w", name, err)
	}
	a.held[f] = d
	return d, nil
}

// typed reports whether a type is said of a part, which need not be there.
func (a *archive) typed(name string) bool {
	return slices.ContainsFunc(a.types.children(0, "Override"), func(i int) bool { return strings.EqualFold(a.types.all[i].read("PartName"), "/"+name) })
}

// add adds a part, of a name that no part has.
func (a *archive) add(name, contentType string, data string) {
	a.added = append(a.added, addition{name, []byte(data)})
	if contentType != "" && !a.typed(name) {
		prefix := a.types.root().prefix
		a.types.append(0, fmt.Sprintf(`<%sOverride PartName="/%s" ContentType="%s"/>`, prefix, escaped(name), contentType))
	}
}

// free returns the name of a part that is not there yet: the first of before1after, and so on.
func (a *archive) free(before, after string) string {
	for n := 1; ; n++ {
		if name := before + strconv.Itoa(n) + after; !a.has(name) {
			return name
		}
	}
}

// defaultType says of what type all parts of an ending are, unless that is said already.
func (a *archive) defaultType(ending, contentType string) {
	for _, i := range a.types.children(0, "Default") {
		if strings.EqualFold(a.types.all[i].read("Extension"), ending) {
			return
		}
	}
	if text := fmt.Sprintf(`<%sDefault Extension="%s" ContentType="%s"/>`, a.types.root().prefix, ending, contentType); !strings.Contains(a.types.root().appends, text) {
		a.types.append(0, text)
	}
}

// write writes the copy: parts that do not change as they are packed, and new ones at the end.
func (a *archive) write(ctx context.Context, out io.Writer) error {
	z := zip.NewWriter(out)
	if err := z.SetComment(a.files.Comment); err != nil {
		return err
	}
	for _, f := range a.files.File {
		if ctx.Err() != nil {
			return context.Cause(ctx)
		}
		d, edits := a.held[f], a.edits[f]
		changed := []byte(nil)
		if d != nil {
			var err error
			if changed, err = d.bytes(); err != nil {
				return fmt.Errorf("part %s: %w", f.Name, err)
			}
		}
		if d != nil && len(d.edits) == 0 || d == nil && len(edits) == 0 {
			if err := z.Copy(f); err != nil {
				return fmt.Errorf("part %s: %w", f.Name, err)
			}
			continue
		}
		w, err := z.CreateHeader(&zip.FileHeader{Name: f.Name, Comment: f.Comment, Method: zip.Deflate, Modified: f.Modified})
		if err != nil {
			return err
		}
		if d != nil {
			_, err = w.Write(changed)
		} else {
			err = spliced(ctx, w, f, edits)
		}
		if err != nil {
			return fmt.Errorf("part %s: %w", f.Name, err)
		}
	}
	for _, n := range a.added {
		w, err := z.CreateHeader(&zip.FileHeader{Name: n.name, Method: zip.Deflate, Modified: a.now})
		if err != nil {
			return err
		}
		if _, err := w.Write(n.data); err != nil {
			return err
		}
	}
	return z.Close()
}

// spliced writes a part that is too large to be held.
func spliced(ctx context.Context, w io.Writer, f *zip.File, edits []edit) (err error) {
	r, err := f.Open()
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, r.Close()) }()
	return splice(w, io.LimitReader(untilDone{ctx, r}, int64(f.UncompressedSize64)), edits)
}

// untilDone reads until its context is done.
type untilDone struct {
	ctx context.Context
	io.Reader
}

func (u untilDone) Read(b []byte) (int, error) {
	if u.ctx.Err() != nil {
		return 0, context.Cause(u.ctx)
	}
	return u.Reader.Read(b)
}

// relations are the parts that belong to a part: ISO/IEC 29500-2, 9.3.
type relations struct {
	folder string // of the part
	name   string // of the part that lists them
	doc    *document
	each   []relation
	added  string // where there is no such part yet
}

type relation struct {
	id, kind string // the last word of its type: what stands before that differs between editions
	target   string // the name of the part; empty if it lies elsewhere
}

// relationsOf returns the relations of a part, those of the whole file for the empty name.
func (a *archive) relationsOf(part string) (*relations, error) {
	if r := a.rels[strings.ToLower(part)]; r != nil {
		return r, nil
	}
	folder, name := path.Split(part)
	r := &relations{folder: folder, name: folder + "_rels/" + name + ".rels"}
	a.rels[strings.ToLower(part)] = r
	if a.byName[strings.ToLower(r.name)] == nil {
		return r, nil
	}
	var err error
	if r.doc, err = a.document(r.name); err != nil {
		return nil, err
	}
	for _, i := range r.doc.children(0, "Relationship") {
		e := &r.doc.all[i]
		one := relation{id: e.read("Id"), kind: path.Base(e.read("Type"))}
		if e.read("TargetMode") != "External" {
			target := strings.ReplaceAll(e.read("Target"), `\`, "/")
			if !strings.HasPrefix(target, "/") {
				target = "/" + folder + target
			}
			one.target = strings.TrimPrefix(path.Clean(target), "/")
		}
		r.each = append(r.each, one)
	}
	return r, nil
}

// of returns the first relation of a kind.
func (r *relations) of(kind string) (relation, bool) {
	for _, one := range r.each {
		if one.kind == kind {
			return one, true
		}
	}
	return relation{}, false
}

// by returns the relation of an id.
func (r *relations) by(id string) (relation, bool) {
	for _, one := range r.each {
		if one.id == id {
			return one, true
		}
	}
	return relation{}, false
}

// add adds a relation of a type to a part, and returns its id.
func (r *relations) add(typ, target string) (id string) {
	for n := len(r.each) + 1; ; n++ {
		id = "rId" + strconv.Itoa(n)
		if _, taken := r.by(id); !taken {
			break
		}
	}
	r.each = append(r.each, relation{id, path.Base(typ), target})
	prefix := ""
	if r.doc != nil {
		prefix = r.doc.root().prefix
	}
	text := fmt.Sprintf(`<%sRelationship Id="%s" Type="%s" Target="%s"/>`, prefix, id, typ, escaped("/"+target))
	if r.doc != nil {
		r.doc.append(0, text)
	} else {
		r.added += text
	}
	return id
}

const packageSpace = "http://schemas.openxmlformats.org/package/2006/"

// finish adds the new parts that are complete now.
func (a *archive) finish() error {
	for _, p := range a.fresh {
		data, err := p.doc.bytes()
		if err != nil {
			return err
		}
		a.add(p.name, p.contentType, string(data))
	}
	for _, part := range slices.Sorted(maps.Keys(a.rels)) {
		if r := a.rels[part]; r.doc == nil && r.added != "" {
			a.add(r.name, "", head+`<Relationships xmlns="`+packageSpace+`relationships">`+r.added+`</Relationships>`)
		}
	}
	return nil
}

const head = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n"
