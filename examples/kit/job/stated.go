package job

import (
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"

	"example.com/closefit/grading"
)

// stated are the texts that a job states beside its readings and that verdicts rest on, word for
// word, each with its key in the job file: how doubts are combined, temperatures, materials and what each part is made of,
// the volumes of the cylinders, how bobweights are made up, the walls of the grades of shells,
// the formulas of its own fits. Walls that a scheme beside the job states are under the same keys.
func (f *file) stated(sets []shellSet) [][2]string {
	var list [][2]string
	add := func(key string, of any) { list = appendTexts(list, key, reflect.ValueOf(of)) }
	add("combine", f.Combine)
	add("temperatures", f.Temperatures)
	add("materials", f.Materials)
	add("warmth", f.Warmth)
	add("compression", f.Compression)
	add("bobweight", f.Bobweight)
	for _, part := range slices.Sorted(maps.Keys(f.Shells)) {
		t, at := f.Shells[part], "shells."+part
		add(at+".walls", t.Walls)
		add(at+".undersizes", t.Undersizes)
		add(at+".ground", t.Ground)
		add(at+".undersize", t.Undersize)
	}
	for i := range sets {
		if f.Shells[sets[i].part].Scheme != "" {
			list = sets[i].statedWalls(list)
		}
	}
	for i := range f.Fits {
		t, at := &f.Fits[i], fmt.Sprintf("fits[%d]", i)
		add(at+".name", t.Name)
		add(at+".formula", t.Formula)
		add(at+".lines", t.Lines)
		add(at+".needs", t.Needs)
	}
	return list
}

// appendTexts appends every text in a value of a job file, with the key that leads to it. What is
// left out has none.
func appendTexts(list [][2]string, key string, v reflect.Value) [][2]string {
	switch v.Kind() {
	case reflect.String:
		if v.Len() > 0 {
			list = append(list, [2]string{key, v.String()})
		}
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			return appendTexts(list, key, v.Elem())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			list = appendTexts(list, key+"."+v.Type().Field(i).Tag.Get("toml"), v.Field(i))
		}
	case reflect.Slice:
		for i := range v.Len() {
			list = appendTexts(list, fmt.Sprintf("%s[%d]", key, i), v.Index(i))
		}
	case reflect.Map:
		names := v.MapKeys()
		slices.SortFunc(names, func(a, b reflect.Value) int { return strings.Compare(a.String(), b.String()) })
		for _, name := range names {
			list = appendTexts(list, key+"."+name.String(), v.MapIndex(name))
		}
	}
	return list
}

// statedWalls appends the walls of every grade of the set.
func (set *shellSet) statedWalls(list [][2]string) [][2]string {
	seen := map[string]bool{}
	for _, s := range append(set.schemes(), set.scheme) {
		for _, sh := range s.Shells {
			half := "both"
			if sh.Half != grading.Either {
				half = sh.Half.String()
			}
			if key := set.path() + ".walls." + half + "." + sh.Grade; !seen[key] {
				seen[key] = true
				list = append(list, [2]string{key, sh.Wall.String()})
			}
		}
	}
	return list
}
