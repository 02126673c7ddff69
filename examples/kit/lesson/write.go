package lesson

import (
	"embed"
	"io"
	"strconv"

	"example.com/closefit/examples/kit/page"
)

//go:embed lesson.js apart.js
var scripts embed.FS

//go:embed lesson.css
var style string

// FirstSeed is that of the exercises that a page is written with.
const FirstSeed = 1

// Site is where the pages are written: the module that they ask.
type Site struct {
	// Module is the lessons' module, packed by gzip. Without it, pages are written without scripts.
	Module []byte
	// Hash is SHA-256, by which a page lets its own scripts run and no other. It is needed with a Module,
	// and given, because the module itself has no use for it.
	Hash func([]byte) [32]byte
}

// File is the name of a lesson's page.
func (l *Lesson) File() string {
	for i, x := range All() {
		if x.Key == l.Key {
			return strconv.Itoa(i+1) + "-" + l.Key + ".html"
		}
	}
	return l.Key + ".html"
}

// Contents and KeyFile are the names of the other pages. No page leads to the teacher's.
const (
	Contents = "index.html"
	KeyFile  = "teacher-key.html"
)

func (s Site) document(title string, body page.Markup) page.Document {
	d := page.Document{Title: title, Style: style, Body: body}
	if s.Module != nil {
		d.Scripts = []page.Script{page.LoaderScript(), page.ScriptOf(scripts, "lesson.js")}
		d.Apart = []page.Script{page.LoaderScript(), page.ScriptOf(scripts, "apart.js")}
		d.Hash, d.WebAssembly = s.Hash, true
		d.Blocks = []page.Block{{ID: "module", Data: s.Module}}
	}
	return d
}

// Write writes the page of a lesson.
func (s Site) Write(w io.Writer, l *Lesson) error {
	v, err := l.show(l.Start())
	if err != nil {
		return err
	}
	working, err := v.workings()
	if err != nil {
		return err
	}
	both, err := l.Exercises(FirstSeed)
	if err != nil {
		return err
	}
	return s.document(l.Title, l.markup(v, working, both)).Write(w)
}

// WriteContents writes the list of the lessons.
func (s Site) WriteContents(w io.Writer) error {
	entry := func(l *Lesson) page.Markup {
		return page.El("li", page.El("a", page.Attr("href", l.File()), page.Text(l.Title)), page.El("p", page.Text(l.Question)))
	}
	body := page.El("main", page.El("h1", page.Text("Tolerance stacking, in eight lessons")),
		page.El("p", page.Text("Each page opens with a question from the bench. Move the sliders, and the answer, its picture and its working follow. Every number is computed on the page, by the same library that judges a real engine. The engine in these lessons is invented: carry none of its figures to another one.")),
		page.El("ol", page.Class("lessons"), page.Each(All(), entry)),
		page.El("p", page.Class("note"), page.Text("At the end of each page are two exercises. Their numbers follow from a seed, which your teacher may give you.")))
	return Site{}.document("Tolerance stacking, in eight lessons", body).Write(w)
}

// WriteKey writes the teacher's page.
func (s Site) WriteKey(w io.Writer) error {
	m, err := key(FirstSeed)
	if err != nil {
		return err
	}
	body := page.El("main", page.Attr("data-page", "key"), page.El("h1", page.Text("The teacher's key")),
		page.El("p", page.Text("For each exercise: what is given, the right answer with its working, and the answers that usual mistakes lead to. The page of a student with the same seed has these numbers.")),
		seedField(), page.El("div", page.ID("key"), m), status())
	return s.document("The teacher's key", body).Write(w)
}

func seedField() page.Markup {
	return page.El("p", page.Class("seed"), page.El("label", page.Attr("for", "seed"), page.Text("Seed of the exercises")),
		page.El("input", page.ID("seed"), page.Attr("type", "number"), page.Attr("min", "0"), page.Attr("max", strconv.Itoa(MaxSeed)), page.Attr("step", "1"), page.Attr("value", strconv.Itoa(FirstSeed)), page.Attr("inputmode", "numeric"), page.Attr("autocomplete", "off")))
}

// status is where the page says what is in the way.
func status() page.Markup {
	return page.El("p", page.ID("status"), page.Attr("role", "status"), page.Class("note"))
}

func (l *Lesson) markup(v view, working page.Markup, both [2]Exercise) page.Markup {
	var controls, tasks page.Markup
	for i, c := range l.Controls {
		controls = page.Join(controls, c.markup("control-"+strconv.Itoa(i+1)))
	}
	for i := range both {
		tasks = page.Join(tasks, both[i].section(i+1))
	}
	paragraph := func(text string) page.Markup { return page.El("p", page.Text(text)) }
	return page.Join(
		l.nav(),
		page.El("main", page.Attr("data-page", "lesson"), page.Attr("data-lesson", l.Key),
			page.El("h1", page.Text(l.Title)), page.El("p", page.Class("question"), page.Text(l.Question)),
			page.Each(l.Reads, paragraph),
			page.If(l.Caution != "", page.El("p", page.Class("caution"), page.El("strong", page.Text("Caution: ")), page.Text(l.Caution))),
			page.El("section", page.Class("bench"), page.Attr("aria-labelledby", "move"),
				page.El("h2", page.ID("move"), page.Text("Move it")),
				page.El("div", page.Class("controls"), controls),
				page.El("div", page.ID("said"), page.Class("said"), v.sentences()),
				page.El("p", page.ID("spoken"), page.Class("hidden"), page.Attr("role", "status")),
				page.El("div", page.ID("charts"), page.Class("charts"), page.Each(v.charts, page.Figure)),
				page.El("details", page.Class("workings"), page.Attr("open", ""), page.El("summary", page.El("h3", page.Text("The working"))), page.El("div", page.ID("working"), working))),
			page.El("section", page.Attr("aria-labelledby", "try"), page.El("h2", page.ID("try"), page.Text("Try this")),
				page.El("ul", page.Each(l.Try, func(text string) page.Markup { return page.El("li", page.Text(text)) }))),
			page.El("section", page.Attr("aria-labelledby", "exercises"), page.El("h2", page.ID("exercises"), page.Text("Exercises")), seedField(), tasks),
			status(), l.next()))
}

// nav leads to the other lessons.
func (l *Lesson) nav() page.Markup {
	link := func(x *Lesson) page.Markup {
		return page.El("li", page.El("a", page.Attr("href", x.File()), page.If(x.Key == l.Key, page.Attr("aria-current", "page")), page.Text(x.Title)))
	}
	return page.El("nav", page.Attr("aria-label", "Lessons"), page.El("ol", page.Each(All(), link)))
}

// next leads on from the foot of the page: to the lesson that follows, and from the last to the list.
func (l *Lesson) next() page.Markup {
	file, text := Contents, "To the list of the lessons"
	for i, x := range All()[1:] {
		if All()[i].Key == l.Key {
			file, text = x.File(), "Next: "+x.Title
		}
	}
	return page.El("nav", page.Class("next"), page.Attr("aria-label", "Go on"), page.El("a", page.Attr("href", file), page.Text(text)))
}

// section is an exercise with its field.
func (e *Exercise) section(n int) page.Markup {
	i := strconv.Itoa(n)
	return page.El("section", page.Class("exercise"), page.Attr("data-exercise", i), page.Attr("aria-labelledby", "exercise-"+i),
		page.El("h3", page.ID("exercise-"+i), page.Text("Exercise "+i)),
		page.El("div", page.Class("task"), e.markup()),
		page.El("form", page.El("label", page.Attr("for", "answer-"+i), page.Text("Your answer")),
			page.El("input", page.ID("answer-"+i), page.Attr("type", "text"), page.Attr("autocomplete", "off"), page.Attr("autocapitalize", "off"), page.Attr("spellcheck", "false"), page.Attr("aria-describedby", "reason-"+i)),
			page.El("button", page.Attr("type", "submit"), page.Text("Judge it"))),
		page.El("div", page.ID("reason-"+i), page.Class("reason"), page.Attr("role", "status")))
}

// markup is the task.
func (e *Exercise) markup() page.Markup {
	return page.Join(page.El("p", page.Text(e.Task)), e.givens(), page.El("p", page.Class("note"), page.Text("Answer: "+e.Write+".")))
}

func (e *Exercise) givens() page.Markup {
	return page.El("dl", page.Class("given"), page.Each(e.Given, func(g [2]string) page.Markup {
		return page.El("div", page.El("dt", page.Text(g[0])), page.El("dd", page.Text(g[1])))
	}))
}

// key is the teacher's key for a seed.
func key(seed int64) (page.Markup, error) {
	var all page.Markup
	for n, l := range All() {
		both, err := l.Exercises(seed)
		if err != nil {
			return page.Markup{}, err
		}
		part := page.El("h2", page.Text("Lesson "+strconv.Itoa(n+1)+": "+l.Title))
		for i := range both {
			e := &both[i]
			rows := make([][]string, 0, len(e.Usual))
			for _, m := range e.Usual {
				rows = append(rows, []string{m.Answer, m.Why})
			}
			part = page.Join(part, page.El("section", page.Class("exercise"), page.El("div", page.Class("asked"), page.El("h3", page.Text("Exercise "+strconv.Itoa(i+1))),
				page.El("p", page.Text(e.Task)), e.givens(), page.El("p", page.El("strong", page.Text("Right: "+e.Right))), page.El("p", page.Class("note"), page.Text(e.Write))),
				page.El("details", page.El("summary", page.Text("The working")), page.Working(&e.Working)),
				page.Table("", "Usual mistakes", []string{"answer", "reason"}, rows)))
		}
		all = page.Join(all, page.El("section", part))
	}
	return all, nil
}
