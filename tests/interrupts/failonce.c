// Lets one call that changes the disk fail, for a program that it is preloaded into:
//   FAIL_UNDER   only calls on paths below this folder count
//   FAIL_AT      which of them fails, from 1; 0 for none
//   FAIL_ERRNO   with which error (28: no space left on device; 5: input/output error)
//   FAIL_LOG     a file that gets a line: how many calls counted, and which one failed
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/uio.h>
#include <unistd.h>

static atomic_long counted;
static char failed[512] = "-";

static int below(const char *path)
{
    const char *under = getenv("FAIL_UNDER");
    char whole[4096];
    if (!under || !path) return 0;
    if (path[0] != '/') {
        if (!getcwd(whole, sizeof whole)) return 0;
        size_t used = strlen(whole);
        snprintf(whole + used, sizeof whole - used, "/%s", path);
        path = whole;
    }
    return strncmp(path, under, strlen(under)) == 0;
}

static int fails(const char *call, const char *path)
{
    if (!below(path)) return 0;
    long number = atomic_fetch_add(&counted, 1) + 1;
    const char *at = getenv("FAIL_AT");
    if (!at || number != atol(at)) return 0;
    snprintf(failed, sizeof failed, "%s %s", call, path);
    errno = getenv("FAIL_ERRNO") ? atoi(getenv("FAIL_ERRNO")) : ENOSPC;
    return 1;
}

static int fails_on(const char *call, int fd)
{
    char link[64], path[4096];
    if (!getenv("FAIL_UNDER")) return 0;
    int kept = errno;
    snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
    ssize_t length = readlink(link, path, sizeof path - 1);
    errno = kept;
    if (length < 0) return 0;
    path[length] = 0;
    // Pipes and sockets have names without a folder.
    if (path[0] != '/') return 0;
    return fails(call, path);
}

__attribute__((destructor)) static void tell(void)
{
    const char *log = getenv("FAIL_LOG");
    FILE *file = log ? fopen(log, "w") : NULL;
    if (!file) return;
    fprintf(file, "%ld %s\n", (long)counted, failed);
    fclose(file);
}

#define REAL(name) ((__typeof__(&name))dlsym(RTLD_NEXT, #name))

#define OPENS(name) \
    int name(const char *path, int flags, ...) \
    { \
        va_list list; va_start(list, flags); mode_t mode = va_arg(list, mode_t); va_end(list); \
        if ((flags & (O_CREAT | O_WRONLY | O_RDWR)) && fails(#name, path)) return -1; \
        return REAL(name)(path, flags, mode); \
    }
OPENS(open)
OPENS(open64)

#define OPENS_AT(name) \
    int name(int folder, const char *path, int flags, ...) \
    { \
        va_list list; va_start(list, flags); mode_t mode = va_arg(list, mode_t); va_end(list); \
        if ((flags & (O_CREAT | O_WRONLY | O_RDWR)) && fails(#name, path)) return -1; \
        return REAL(name)(folder, path, flags, mode); \
    }
OPENS_AT(openat)
OPENS_AT(openat64)

#define ON_FD(type, name, parameters, arguments) \
    type name parameters { if (fails_on(#name, fd)) return -1; return REAL(name) arguments; }
ON_FD(ssize_t, write, (int fd, const void *bytes, size_t count), (fd, bytes, count))
ON_FD(ssize_t, pwrite, (int fd, const void *bytes, size_t count, off_t at), (fd, bytes, count, at))
ON_FD(ssize_t, pwrite64, (int fd, const void *bytes, size_t count, off64_t at), (fd, bytes, count, at))
ON_FD(ssize_t, writev, (int fd, const struct iovec *parts, int count), (fd, parts, count))
ON_FD(ssize_t, pwritev, (int fd, const struct iovec *parts, int count, off_t at), (fd, parts, count, at))
ON_FD(ssize_t, pwritev64, (int fd, const struct iovec *parts, int count, off64_t at), (fd, parts, count, at))
ON_FD(int, ftruncate, (int fd, off_t length), (fd, length))
ON_FD(int, ftruncate64, (int fd, off64_t length), (fd, length))
ON_FD(int, fsync, (int fd), (fd))
ON_FD(int, fdatasync, (int fd), (fd))
ON_FD(int, futimens, (int fd, const struct timespec times[2]), (fd, times))
ON_FD(int, fchmod, (int fd, mode_t mode), (fd, mode))

#define ON_PATH(name, parameters, arguments) \
    int name parameters { if (fails(#name, path)) return -1; return REAL(name) arguments; }
ON_PATH(mkdir, (const char *path, mode_t mode), (path, mode))
ON_PATH(rmdir, (const char *path), (path))
ON_PATH(unlink, (const char *path), (path))
ON_PATH(chmod, (const char *path, mode_t mode), (path, mode))
ON_PATH(rename, (const char *from, const char *path), (from, path))
ON_PATH(link, (const char *from, const char *path), (from, path))
ON_PATH(symlink, (const char *from, const char *path), (from, path))
ON_PATH(truncate, (const char *path, off_t length), (path, length))
