package page

import "strings"

// A kind is how an element is written.
type kind byte

const (
	usual    kind = iota
	void          // has no content and no end
	shape         // of SVG; without content it ends in its beginning
	verbatim      // readers leave out a line's end at the beginning
)

// elements are those that run nothing and load nothing but the images whose addresses Attr has looked at.
var elements = func() map[constant]kind {
	all := map[constant]kind{}
	for k, names := range map[kind]string{
		usual: `a abbr address article aside b bdi bdo blockquote button caption cite code colgroup data datalist dd del details dfn dialog div
			dl dt em fieldset figcaption figure footer form h1 h2 h3 h4 h5 h6 header hgroup i ins kbd label legend li main mark menu meter nav ol
			optgroup option output p picture progress q rp rt ruby s samp search section select small span strong sub summary sup table tbody td
			tfoot th thead time title tr u ul var
			svg g text tspan desc defs symbol marker clipPath pattern linearGradient radialGradient`,
		void:     `area br col hr img input wbr`,
		shape:    `circle ellipse line path polygon polyline rect stop`,
		verbatim: `pre textarea`,
	} {
		for name := range strings.FieldsSeq(names) {
			all[constant(name)] = k
		}
	}
	return all
}()
