// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/build/edits.hpp>
#include <bellmouth/build/files.hpp>

#include <spdlog/fmt/fmt.h>

#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>
#include <utility>

namespace bellmouth::build {

namespace {

/// An open file that is closed in the end.
class Descriptor {
public:
  explicit Descriptor(int fd) : fd_(fd) {}
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor() {
    if (fd_ >= 0)
      ::close(fd_);
  }
  [[nodiscard]] int get() const { return fd_; }
  /// Closes now and says whether that went well.
  [[nodiscard]] bool close() { return ::close(std::exchange(fd_, -1)) == 0; }

private:
  int fd_;
};

/// A temporary file that is taken away again unless it was kept.
class Temporary {
public:
  explicit Temporary(std::string name) : name_(std::move(name)) {}
  Temporary(const Temporary&) = delete;
  Temporary& operator=(const Temporary&) = delete;
  ~Temporary() {
    if (!name_.empty())
      ::unlink(name_.c_str());
  }
  void keep() { name_.clear(); }

private:
  std::string name_;
};

bool write_all(int fd, std::string_view text) {
  while (!text.empty()) {
    const ssize_t written = ::write(fd, text.data(), text.size());
    if (written < 0 && errno == EINTR)
      continue;
    if (written <= 0)
      return false;
    text.remove_prefix(static_cast<std::size_t>(written));
  }
  return true;
}

/// Makes a new file beside `target` and opens it; its name differs from that of any other. -1 when that
/// fails.
int open_beside(const std::filesystem::path& target, std::string& name) {
  constexpr int attempts = 100;
  for (int attempt = 0; attempt < attempts; ++attempt) {
    name =
        (target.parent_path() / fmt::format(".{}.{}-{}.tmp", target.filename().string(), ::getpid(), attempt))
            .string();
    const int opened = ::open(name.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (opened >= 0 || errno != EEXIST)
      return opened;
  }
  return -1;
}

} // namespace

Result<void> save_text(const std::filesystem::path& file, std::string_view text) {
  const auto failed = [&](const char* step) {
    const int code = errno;
    return fail(Error{{file.string(), 0, 0, {}},
                      fmt::format("{} while {}", std::strerror(code), step),
                      "a folder in which the file can be saved",
                      {}});
  };
  // A link stays a link: what it points to is replaced.
  std::error_code unresolved;
  std::filesystem::path target =
      std::filesystem::weakly_canonical(std::filesystem::absolute(file), unresolved);
  if (unresolved)
    target = std::filesystem::absolute(file);
  const std::filesystem::path folder = target.parent_path();
  struct stat before {};
  const bool replaces = ::stat(target.c_str(), &before) == 0;
  if (replaces && !S_ISREG(before.st_mode))
    return fail(Error{{file.string(), 0, 0, {}}, "something that is not a file", "the name of a file", {}});

  std::string name;
  Descriptor out(open_beside(target, name));
  if (out.get() < 0)
    return failed("making a temporary file beside it");
  Temporary temporary(name);
  if (!write_all(out.get(), text))
    return failed("writing");
  if (replaces && ::fchmod(out.get(), before.st_mode & 07777) != 0)
    return failed("setting its access");
  if (::fsync(out.get()) != 0)
    return failed("flushing it to the disk");
  if (!out.close())
    return failed("closing it");
  if (::rename(name.c_str(), target.c_str()) != 0)
    return failed("putting it in its place");
  temporary.keep();
  const Descriptor opened_folder(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
  if (opened_folder.get() < 0 || (::fsync(opened_folder.get()) != 0 && errno != EINVAL))
    return failed("flushing its folder to the disk");
  return {};
}

Result<void> save_build(const std::filesystem::path& file, const Build& build) {
  if (auto error = validate(build)) {
    error->place.file = file.string();
    return fail(*std::move(error));
  }
  return save_text(file, write_build(build));
}

} // namespace bellmouth::build
