package understand

import (
	"slices"
	"strings"
	"sync"
	"unicode"
)

// meaning is what a heading is taken to mean. The words of one of its lists must all be
// there: "*spiel" is the end of a word, "ober*" its beginning, "=to" the whole heading.
type meaning struct {
	role  string
	lists []string
	words [][]string // of the lists
}

// inWords is meanings with the lists split into words: headings are asked for a hundred thousand times.
var inWords = sync.OnceValue(func() []meaning {
	all := meanings()
	for i := range all {
		for _, list := range all[i].lists {
			all[i].words = append(all[i].words, strings.Fields(list))
		}
	}
	return all
})

// The roles of cells. They are words of the trade; what a formula does decides before them.
const (
	roleLocation  = "location"
	roleBore      = "bore"
	roleUpper     = "upper"
	roleLower     = "lower"
	roleWall      = "wall"
	roleJournal   = "journal"
	rolePiston    = "piston"
	roleClearance = "clearance"
	roleVerdict   = "verdict"
	roleLow       = "limit low"
	roleHigh      = "limit high"
	roleReading   = "reading"
	roleTaper     = "taper"
	roleRound     = "out-of-round"
	roleConverted = "conversion"
	roleLookUp    = "look-up"
	roleGrade     = "grade"
	roleCode      = "code"
	roleLeastGap  = "least gap"
	roleGap       = "gap"
	roleToFile    = "to file"
	roleStretch   = "stretch"
	rolePacks     = "packs"
	roleCost      = "cost"
	roleCount     = "count"
	roleSquares   = "root sum of squares"
	roleFactor    = "factor"
	roleBeyond    = "beyond" // by how much a deviation lies outside its tolerances
	roleTorque    = "torque"
	roleNumber    = "number" // that formulas read, and no more is known
)

// meanings lists words of headings in English, German, French and Spanish, without accents,
// the more special before the more general. They are words of the trade, from memory.
func meanings() []meaning {
	return []meaning{
		{role: roleRound, lists: []string{"out-of-round", "roundness", "round", "*unrund*", "unrund*", "ovalitat", "ovalite", "ovalisation", "ovalizacion", "ovalidad", "faux-rond", "redondez"}},
		{role: roleTaper, lists: []string{"taper", "kegel*", "konizitat", "conicite", "conicidad"}},
		{role: roleVerdict, lists: []string{"verdict", "ok", "ok?", "result", "pass", "round?", "within", "urteil", "befund", "*ergebnis", "ergebnis", "bewertung", "controle", "resultat", "avis", "resultado", "✓", "juicio", "veredicto", "conforme", "check"}},
		{role: "dial travel", lists: []string{"dial travel", "travel"}},
		{role: "dial", lists: []string{"dial", "messuhr", "comparateur", "reloj", "uhr", "comparador", "push", "pull"}},
		{role: "end play", lists: []string{"end play", "end float", "float", "axialspiel", "langsspiel", "jeu axial", "juego axial", "holgura axial"}},
		{role: "side play", lists: []string{"side play", "side clearance", "seitenspiel", "jeu lateral", "juego lateral", "holgura lateral"}},
		{role: "end play", lists: []string{"play without", "play left", "play found"}},
		{role: "deck clearance", lists: []string{"below deck", "deck clearance"}},
		{role: "journal length", lists: []string{"journal length", "zapfenbreite", "zapfenlange"}},
		{role: "housing width", lists: []string{"housing width", "lagerbreite"}},
		{role: "washer", lists: []string{"washer", "*anlaufscheibe", "anlaufscheibe", "rondelle", "arandela"}},
		{role: "shim", lists: []string{"shim", "shims", "ausgleichsscheibe", "beilage", "cale", "cales", "suplemento", "pastille", "pastilles", "pastilla"}},
		{role: "pin width", lists: []string{"pin width", "pin wide", "zapfen breit"}},
		{role: "rod width", lists: []string{"rod width", "rod 1", "rod 2", "pleuelbreite", "rod wide", "pleuel breit"}},
		{role: "deck", lists: []string{"deck height", "deck"}},
		{role: "throw", lists: []string{"half stroke", "stroke", "throw"}},
		{role: "rod length", lists: []string{"rod length", "pleuellange"}},
		{role: "crown", lists: []string{"crown", "compression height", "kompressionshohe"}},
		{role: roleToFile, lists: []string{"to file", "feilen", "limer", "limar"}},
		{role: roleLeastGap, lists: []string{"least gap", "gap least", "gap min", "min gap", "mindeststoss*", "mindestspalt*"}},
		{role: roleGap, lists: []string{"gap", "stossspiel", "spalt", "coupe", "abertura"}},
		{role: roleStretch, lists: []string{"stretch", "permanent set", "elongation", "langung", "dehnung", "bleibend*", "allongement", "alargamiento"}},
		{role: "length new", lists: []string{"free length", "new length", "length new", "bolt new", "length before", "ungespannt"}},
		{role: "length now", lists: []string{"tightened", "length now", "bolt now", "length after", "gespannt", "serree"}},
		{role: "length used", lists: []string{"used length", "length used"}},
		{role: roleSquares, lists: []string{"root sum of squares", "root sum square", "rss", "quadratische* summe", "somme quadratique", "suma cuadratica"}},
		{role: roleBeyond, lists: []string{"hors tol*", "out of tol*", "outside tol*", "ausser tol*", "fuera tol*"}},
		{role: "tolerance", lists: []string{"±", "tol", "tolerance", "toleranz", "tolerancia"}},
		{role: roleLow, lists: []string{"kleinstspiel", "kleinstmass", "mindestspiel", "lower limit", "untere* grenz*", "clearance min", "spiel min", "jeu mini", "holgura minima", "least clearance"}},
		{role: roleHigh, lists: []string{"grosstspiel", "hochstspiel", "grosstmass", "hochstmass", "upper limit", "obere* grenz*", "clearance max", "spiel max", "jeu maxi", "holgura maxima", "most clearance"}},
		{role: "average", lists: []string{"average", "mean", "mittelwert", "mittel", "moyenne", "media", "promedio", "durchschnitt"}},
		{role: "target", lists: []string{"target", "aim", "set to", "soll*", "vise*", "objectif", "objetivo"}},
		{role: "nominal", lists: []string{"nominal", "nennmass", "nominale"}},
		{role: roleClearance, lists: []string{"clearance", "*spiel", "spiel", "jeu", "holgura", "juego", "oil gap"}},
		{role: "range", lists: []string{"range", "spannweite", "etendue", "rango"}},
		{role: "total", lists: []string{"total", "subtotal", "sub-total", "sous-total", "sum", "summe", "zwischensumme", "endsumme", "gesamt", "somme", "suma"}},
		{role: roleLow, lists: []string{"min", "mini", "minimum", "minima", "minimo", "at least", "least", "low", "=von", "=from", "=de", "smallest", "mindestens", "klein*", "*min"}},
		{role: roleHigh, lists: []string{"max", "maxi", "maximum", "maxima", "maximo", "at most", "most", "high", "=bis", "=to", "=a", "largest", "hochstens", "gross*", "*max"}},
		{role: "thread", lists: []string{"thread", "gewinde", "filetage", "rosca"}},
		{role: "sign", lists: []string{"sign", "vorzeichen", "signe", "signo"}},
		{role: "angle", lists: []string{"angle", "winkel", "angulo"}},
		{role: "price", lists: []string{"price", "preis", "prix", "precio"}},
		{role: roleCost, lists: []string{"cost", "kosten", "cout", "costo", "coste", "tax", "vat", "mehrwertsteuer", "mwst", "tva", "iva", "postage", "versand", "amount", "betrag", "montant", "importe", "discount", "rabatt", "descuento", "carriage", "fracht", "portes", "impuesto"}},
		{role: "pack size", lists: []string{"pack of", "in a pack", "per pack", "packungsgrosse", "stuck je packung", "je packung", "packung zu", "pack size", "per bag", "per box", "je beutel", "par sachet", "pieces paquet", "por paquete", "piezas paq*"}},
		{role: rolePacks, lists: []string{"packs", "packungen", "paquets", "paquetes", "bags", "boxes", "beutel", "sachets"}},
		{role: "stock", lists: []string{"stock", "vorrat", "lager bestand", "bestand", "vorhanden", "existencias", "drawer", "shelf", "regal", "en stock", "en magasin", "almacen"}},
		{role: "to buy", lists: []string{"to buy", "zu kaufen", "a acheter", "a comprar", "buy", "fehlen*", "manqu*", "faltan"}},
		{role: "needed", lists: []string{"needed", "bedarf", "besoin", "necesario*", "need"}},
		{role: "bought", lists: []string{"bought", "gekauft", "achete*", "comprado*"}},
		{role: "left over", lists: []string{"left over", "rest", "ubrig", "reste", "sobrante"}},
		{role: roleCode, lists: []string{"code", "kennzahl", "kennbuchstabe", "codigo", "repere"}},
		{role: roleGrade, lists: []string{"class", "upper grade", "lower grade"}},
		{role: roleUpper, lists: []string{"upper", "top shell", "oben", "ober*", "sup", "superieur", "superior", "wall 1"}},
		{role: roleLower, lists: []string{"lower", "bottom shell", "unten", "unter*", "inf", "inferieur", "inferior", "wall 2"}},
		{role: roleWall, lists: []string{"wall", "shell", "shells", "schale", "*schale", "coussinet*", "demi-coussinet*", "semicojinete", "cojinete", "thickness", "*dicke", "dicke", "wandstarke", "schalen", "epaisseur", "espesor", "pared", "paroi"}},
		{role: roleGrade, lists: []string{"grade", "kind", "klasse", "sorte", "classe", "clase"}},
		{role: rolePiston, lists: []string{"piston", "kolben*", "skirt", "jupe", "falda"}},
		{role: roleJournal, lists: []string{"journal", "pin", "crankpin", "*zapfen", "zapfen", "tourillon", "maneton", "munequilla", "munon", "portee"}},
		{role: roleBore, lists: []string{"bore", "housing", "*bohrung", "bohrung", "alesage", "alojamiento", "taladro", "gehause", "auge", "eye"}},
		{role: roleTorque, lists: []string{"torque", "drehmoment", "anzugsmoment", "couple", "apriete", "cap bolt*"}},
		{role: roleFactor, lists: []string{"share", "factor", "ratio", "anteil", "faktor", "rapport", "facteur", "proporcion"}},
		{role: "difference", lists: []string{"deviation", "abweichung", "ecart", "desviacion", "difference", "differenz", "diferencia", "error"}},
		{role: roleReading, lists: []string{"measured", "actual", "gemessen", "istmass", "mesure", "mesuree", "medido", "medida", "length", "lange", "longueur", "longitud"}},
		{role: "count", lists: []string{"count", "number of", "anzahl", "nombre", "cantidad", "to rework", "how many", "quantity", "qty", "stuckzahl"}},
	}
}

// plainLetters takes accents away.
var plainLetters = strings.NewReplacer("á", "a", "à", "a", "â", "a", "ä", "a", "é", "e", "è", "e", "ê", "e", "ë", "e", "í", "i", "ì", "i", "î", "i", "ï", "i",
	"ó", "o", "ò", "o", "ô", "o", "ö", "o", "ú", "u", "ù", "u", "û", "u", "ü", "u", "ñ", "n", "ç", "c", "ß", "ss", "œ", "oe")

// wordsOf splits a heading into its words in small letters.
func wordsOf(text string) []string {
	text = plainLetters.Replace(strings.ToLower(text))
	return strings.FieldsFunc(text, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '-' && r != '?' && r != '±' && r != '✓'
	})
}

// roleOf returns what a heading says that the cells are; empty if it says nothing known. In
// "journal, greatest" the part comes before the word for which of its readings stands there.
func roleOf(heading string) string {
	words := wordsOf(withoutUnit(heading))
	role := ""
	for _, m := range inWords() {
		if role != "" && !part(m.role) || !m.means(words) {
			continue
		}
		if role = m.role; !statistic(role) || slices.ContainsFunc(words, ofLimits) {
			break
		}
	}
	return role
}

// ofLimits reports whether a word says that "lower" and "upper" are limits and no shells.
func ofLimits(word string) bool {
	return strings.HasPrefix(word, "limit") || strings.Contains(word, "grenz")
}

func (m *meaning) means(words []string) bool {
	for i, list := range m.lists {
		if whole, ok := strings.CutPrefix(list, "="); ok {
			if len(words) == 1 && words[0] == whole {
				return true
			}
			continue
		}
		if allIn(words, m.words[i]) {
			return true
		}
	}
	return false
}

func allIn(words, wanted []string) bool {
	for _, w := range wanted {
		found := false
		for _, have := range words {
			found = found || matches(have, w)
		}
		if !found {
			return false
		}
	}
	return true
}

func matches(word, pattern string) bool {
	if word == pattern {
		return true
	}
	stem := strings.Trim(pattern, "*")
	before, after := strings.HasPrefix(pattern, "*"), strings.HasSuffix(pattern, "*")
	switch {
	case before && after:
		return strings.Contains(word, stem)
	case before:
		return strings.HasSuffix(word, stem)
	case after:
		return strings.HasPrefix(word, stem)
	}
	return word == stem || strings.TrimSuffix(word, "?") == stem
}

// sideSaid returns on which side the words beside a limit say that it is, whatever they say that it limits; empty if
// they do not.
func sideSaid(text string) (side string) {
	words := wordsOf(withoutUnit(text))
	for _, m := range inWords() {
		if (m.role == roleLow || m.role == roleHigh) && m.means(words) {
			return m.role
		}
	}
	return ""
}

// answer reports whether a word is yes or no: what is good then depends on what was asked.
func answer(word string) bool {
	switch plainLetters.Replace(strings.ToLower(strings.TrimSpace(word))) {
	case "yes", "no", "ja", "nein", "oui", "non", "si", "true", "false":
		return true
	}
	return false
}

// good are words that sheets write beside what is within its limits.
func good(word string) bool {
	switch strings.Trim(plainLetters.Replace(strings.ToLower(strings.TrimSpace(word))), ".!") {
	case "✓", "✔", "ok", "okay", "good", "pass", "passed", "yes", "fine", "true", "conforming", "accept", "in", "leave",
		"io", "i.o", "gut", "ja", "passt", "in ordnung", "konform",
		"bon", "bonne", "oui", "conforme", "correct", "bueno", "si", "bien", "correcto", "apto", "valido":
		return true
	}
	return false
}

// bad are words that sheets write beside what is not within its limits.
func bad(word string) bool {
	switch strings.Trim(plainLetters.Replace(strings.ToLower(strings.TrimSpace(word))), ".!") {
	case "✗", "✘", "no", "not ok", "nok", "bad", "fail", "failed", "fails", "false", "reject", "out", "tight", "too tight", "loose", "too loose", "low", "too low", "high", "too high", "replace", "file", "rework", "scrap",
		"nio", "n.i.o", "nein", "schlecht", "zu eng", "zu weit", "zu klein", "zu gross", "nicht ok", "schrott",
		"non", "mauvais", "serre", "trop serre", "trop grand", "trop petit", "non conforme", "hors", "hors limites", "a reprendre", "no conforme", "malo", "mal", "demasiado grande", "demasiado pequeno", "fuera":
		return true
	}
	return false
}
