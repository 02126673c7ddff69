package wholefile_test

import (
	"fmt"
	"os"
	"path/filepath"

	"example.com/closefit/examples/kit/files/wholefile"
)

func ExampleWrite() {
	folder, err := os.MkdirTemp("", "records")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(folder)
	record := filepath.Join(folder, "record.txt")
	fmt.Println(wholefile.Write(record, []byte("main 3: conforming\n")))
	fmt.Println(wholefile.Write(folder, []byte("x")) != nil)
	// Output:
	// <nil>
	// true
}
