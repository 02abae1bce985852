"use strict";
// memory makes a file system in memory, with the calls that Go's runtime asks of Node.js (module fs), and
// the process around it. Names are kept as they are written, "../loop.gpx" too: nothing lies outside.
function memory(given, stdin) {
  const home = "/ride", files = new Map(), open = new Map(), folders = new Set(["/out"]);
  const said = { 1: [], 2: [] };
  const WRONLY = 1, RDWR = 2, CREAT = 64, EXCL = 128, TRUNC = 512, APPEND = 1024, DIRECTORY = 65536;
  let next = 10, numbers = 1;

  function fault(code) {
    const e = new Error(code);
    e.code = code;
    return e;
  }
  // plain gives a name without detours; one below home is as it is written from there.
  function plain(name) {
    const parts = [];
    for (const p of name.split("/")) {
      if (p === ".." && parts.length > 0 && parts[parts.length - 1] !== "..") {
        parts.pop();
      } else if (p !== "" && p !== "." && !(p === ".." && name[0] === "/")) {
        parts.push(p);
      }
    }
    const whole = (name[0] === "/" ? "/" : "") + parts.join("/");
    return whole === home ? "" : whole.startsWith(home + "/") ? whole.slice(home.length + 1) : whole;
  }
  function isFolder(name) {
    if (name === "" || name === "/" || /(^|\/)\.\.$/.test(name) || folders.has(name)) { return true; }
    for (const f of files.keys()) {
      if (f.startsWith(name + "/")) { return true; }
    }
    return false;
  }
  function above(name) {
    const i = name.lastIndexOf("/");
    return i < 0 ? "" : i === 0 ? "/" : name.slice(0, i);
  }
  function add(name, bytes) { files.set(name, { number: numbers++, bytes: bytes, size: bytes.length }); }
  function about(f) {
    const folder = f === null, when = 0;
    return {
      dev: 1, ino: folder ? 0 : f.number, mode: folder ? 0o40755 : 0o100644, nlink: 1, uid: 0, gid: 0, rdev: 0,
      size: folder ? 0 : f.size, blksize: 4096, blocks: 1, atimeMs: when, mtimeMs: when, ctimeMs: when,
      isDirectory: () => folder,
    };
  }
  function stat(name) {
    name = plain(name);
    if (files.has(name)) { return about(files.get(name)); }
    if (isFolder(name)) { return about(null); }
    throw fault("ENOENT");
  }
  function opened(fd) {
    if (!open.has(fd)) { throw fault("EBADF"); }
    return open.get(fd);
  }
  function resize(f, size) {
    if (size > f.bytes.length) {
      const more = new Uint8Array(Math.max(size, 2 * f.bytes.length, 4096));
      more.set(f.bytes.subarray(0, f.size));
      f.bytes = more;
    } else if (size < f.size) {
      f.bytes.fill(0, size, f.size);
    }
    f.size = size;
  }

  const calls = {
    open(name, flags) {
      name = plain(name);
      const there = files.get(name);
      if (!there && isFolder(name)) {
        if (flags & (WRONLY | RDWR)) { throw fault("EISDIR"); }
        open.set(next, { file: null, at: 0 });
        return next++;
      }
      if (flags & DIRECTORY) { throw fault(there ? "ENOTDIR" : "ENOENT"); }
      if (there && flags & CREAT && flags & EXCL) { throw fault("EEXIST"); }
      if (!there) {
        if (!(flags & CREAT) || !isFolder(above(name))) { throw fault("ENOENT"); }
        add(name, new Uint8Array(0));
      }
      const file = files.get(name);
      if (flags & TRUNC) { resize(file, 0); }
      open.set(next, { file: file, at: 0, append: (flags & APPEND) !== 0 });
      return next++;
    },
    close(fd) { open.delete(fd); },
    read(fd, into, from, length, at) {
      const o = fd === 0 ? input : opened(fd);
      if (o.file === null) { throw fault("EISDIR"); }
      const start = at === null ? o.at : at, n = Math.max(0, Math.min(length, o.file.size - start));
      into.set(o.file.bytes.subarray(start, start + n), from);
      if (at === null) { o.at += n; }
      return n;
    },
    write(fd, text, from, length, at) {
      const part = text.subarray(from, from + length);
      if (fd === 1 || fd === 2) {
        said[fd].push(part.slice());
        return length;
      }
      const o = opened(fd), start = at !== null ? at : o.append ? o.file.size : o.at;
      if (start + length > o.file.size) { resize(o.file, start + length); }
      o.file.bytes.set(part, start);
      if (at === null) { o.at = start + length; }
      return length;
    },
    fstat(fd) { return fd <= 2 ? about(input.file) : about(opened(fd).file); },
    stat: stat,
    lstat: stat,
    mkdir(name) {
      name = plain(name);
      if (files.has(name) || isFolder(name)) { throw fault("EEXIST"); }
      folders.add(name);
    },
    readdir(name) {
      name = plain(name);
      const under = name === "" ? "" : name + "/", all = new Set();
      for (const f of [...files.keys(), ...folders]) {
        if (f.startsWith(under) && (under !== "" || f[0] !== "/")) { all.add(f.slice(under.length).split("/")[0]); }
      }
      return [...all].sort();
    },
    unlink(name) {
      if (!files.delete(plain(name))) { throw fault("ENOENT"); }
    },
    rmdir(name) { folders.delete(plain(name)); },
    rename(from, to) {
      const f = files.get(plain(from));
      if (!f) { throw fault("ENOENT"); }
      files.delete(plain(from));
      files.set(plain(to), f);
    },
    ftruncate(fd, size) { resize(opened(fd).file, size); },
    truncate(name, size) {
      const f = files.get(plain(name));
      if (!f) { throw fault("ENOENT"); }
      resize(f, size);
    },
    readlink() { throw fault("EINVAL"); }, // nothing is a link
    link() { throw fault("ENOSYS"); },
    symlink() { throw fault("ENOSYS"); },
    fsync() {}, chmod() {}, fchmod() {}, chown() {}, fchown() {}, lchown() {}, utimes() {},
  };

  const fs = { constants: {
    O_WRONLY: WRONLY, O_RDWR: RDWR, O_CREAT: CREAT, O_TRUNC: TRUNC, O_APPEND: APPEND, O_EXCL: EXCL, O_DIRECTORY: DIRECTORY,
  } };
  for (const name of Object.keys(calls)) {
    fs[name] = function (...args) {
      const then = args.pop();
      let got;
      try {
        got = calls[name](...args);
      } catch (e) {
        then(e.code ? e : fault("EIO"));
        return;
      }
      then(null, got);
    };
  }
  fs.writeSync = (fd, text) => calls.write(fd, text, 0, text.length, null); // of the runtime itself

  const input = { file: { number: 0, bytes: stdin || new Uint8Array(0), size: stdin ? stdin.length : 0 }, at: 0 };
  for (const [name, bytes] of Object.entries(given)) { add(plain(name), bytes); }
  function text(parts) { return new Blob(parts).text(); }
  return {
    fs: fs,
    process: {
      pid: 1, ppid: 0, getuid: () => 0, getgid: () => 0, geteuid: () => 0, getegid: () => 0, getgroups: () => [],
      umask: () => 0o22, cwd: () => home, chdir() { throw fault("ENOSYS"); },
    },
    stdout: () => text(said[1]),
    stderr: () => text(said[2]),
    // under gives what was written below a folder.
    under(folder) {
      const out = {};
      for (const [name, f] of files) {
        if (name.startsWith(folder + "/")) { out[name.slice(folder.length + 1)] = f.bytes.slice(0, f.size); }
      }
      return out;
    },
  };
}
