package main

import (
	"io"
	"io/fs"
	"os"
	"sync"
	"syscall"
)

// faultyDisk is the machine's file system with a fault put in: its calls are
// counted, and the one numbered at fails; where full is set every later call
// that needs room fails as well. Nothing waits for the platters.
type faultyDisk struct {
	realDisk
	mutex     sync.Mutex
	at, calls int
	full      bool
	failed    bool
}

// fault counts a call and says how it fails, if it does. A call that fails has
// done nothing, but for a write, which has done half.
func (d *faultyDisk) fault(needsRoom bool) error {
	d.mutex.Lock()
	defer d.mutex.Unlock()
	d.calls++
	if d.calls == d.at || d.full && d.calls > d.at && needsRoom {
		d.failed = true
		return syscall.ENOSPC
	}
	return nil
}

func (d *faultyDisk) Stat(name string) (fs.FileInfo, error) {
	if err := d.fault(false); err != nil {
		return nil, err
	}
	return d.realDisk.Stat(name)
}

func (d *faultyDisk) Lstat(name string) (fs.FileInfo, error) {
	if err := d.fault(false); err != nil {
		return nil, err
	}
	return d.realDisk.Lstat(name)
}

func (d *faultyDisk) EvalSymlinks(name string) (string, error) {
	if err := d.fault(false); err != nil {
		return "", err
	}
	return d.realDisk.EvalSymlinks(name)
}

func (d *faultyDisk) MkdirTemp(folder, pattern string) (string, error) {
	if err := d.fault(true); err != nil {
		return "", err
	}
	return d.realDisk.MkdirTemp(folder, pattern)
}

func (d *faultyDisk) Mkdir(name string) error {
	if err := d.fault(true); err != nil {
		return err
	}
	return d.realDisk.Mkdir(name)
}

func (d *faultyDisk) MkdirAll(name string) error {
	if err := d.fault(true); err != nil {
		return err
	}
	return d.realDisk.MkdirAll(name)
}

func (d *faultyDisk) Create(name string) (diskFile, error) {
	if err := d.fault(true); err != nil {
		return nil, err
	}
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	return &faultyFile{f, d}, err
}

func (d *faultyDisk) Link(from, to string) error {
	if err := d.fault(true); err != nil {
		return err
	}
	return d.realDisk.Link(from, to)
}

func (d *faultyDisk) Rename(from, to string) error {
	if err := d.fault(false); err != nil {
		return err
	}
	return d.realDisk.Rename(from, to)
}

func (d *faultyDisk) Remove(name string) error {
	if err := d.fault(false); err != nil {
		return err
	}
	return d.realDisk.Remove(name)
}

func (d *faultyDisk) RemoveAll(name string) error {
	if err := d.fault(false); err != nil {
		return err
	}
	return d.realDisk.RemoveAll(name)
}

func (d *faultyDisk) SyncFolder(string) error { return d.fault(false) }

type faultyFile struct {
	f io.WriteCloser
	d *faultyDisk
}

func (f *faultyFile) Write(p []byte) (int, error) {
	if err := f.d.fault(true); err != nil {
		n, _ := f.f.Write(p[:len(p)/2])
		return n, err
	}
	return f.f.Write(p)
}

func (f *faultyFile) Sync() error { return f.d.fault(true) }

func (f *faultyFile) Close() error {
	err := f.f.Close()
	if fault := f.d.fault(true); fault != nil {
		return fault
	}
	return err
}
