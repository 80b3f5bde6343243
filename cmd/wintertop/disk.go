package main

import (
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// disk is the file system as the writing of results needs it, for several
// goroutines at once. A test puts one that fails in its place.
type disk interface {
	Stat(name string) (fs.FileInfo, error)
	Lstat(name string) (fs.FileInfo, error)
	EvalSymlinks(name string) (string, error)
	MkdirTemp(folder, pattern string) (string, error)
	Mkdir(name string) error
	MkdirAll(name string) error
	Create(name string) (diskFile, error) // the file must not exist
	Link(from, to string) error
	Rename(from, to string) error
	Remove(name string) error
	RemoveAll(name string) error
	SyncFolder(name string) error
}

// diskFile is a file that is being written.
type diskFile interface {
	io.WriteCloser
	Sync() error
}

// realDisk is the file system of the machine.
type realDisk struct{}

func (realDisk) Stat(name string) (fs.FileInfo, error)    { return os.Stat(name) }
func (realDisk) Lstat(name string) (fs.FileInfo, error)   { return os.Lstat(name) }
func (realDisk) EvalSymlinks(name string) (string, error) { return filepath.EvalSymlinks(name) }

func (realDisk) MkdirTemp(folder, pattern string) (string, error) {
	return os.MkdirTemp(folder, pattern)
}
func (realDisk) Mkdir(name string) error    { return os.Mkdir(name, 0o777) }
func (realDisk) MkdirAll(name string) error { return os.MkdirAll(name, 0o777) }

func (realDisk) Create(name string) (diskFile, error) {
	return os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
}
func (realDisk) Link(from, to string) error   { return os.Link(from, to) }
func (realDisk) Rename(from, to string) error { return os.Rename(from, to) }
func (realDisk) Remove(name string) error     { return os.Remove(name) }
func (realDisk) RemoveAll(name string) error  { return os.RemoveAll(name) }

func (realDisk) SyncFolder(name string) error {
	f, err := os.Open(name)
	if err != nil {
		return err
	}
	defer f.Close()
	return f.Sync()
}
