package sheet

import "fmt"

// guarded calls into the workbook library and makes an error of a panic: files
// that lack what the library takes for granted can bring it to one.
func guarded(call func() error) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("damaged: the workbook lacks something that it needs (%v)", p)
		}
	}()
	return call()
}
