// SPDX-License-Identifier: GPL-3.0-or-later
#include "reader.hpp"
#include "validate.hpp"

#include <bellmouth/build/edits.hpp>
#include <bellmouth/build/files.hpp>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <map>
#include <memory>
#include <string>
#include <sys/stat.h>
#include <unistd.h>

namespace bellmouth::build {

namespace {

/// Reads a value by its description and asks `complain` what is wrong with it as a whole.
template <class T, class Complain>
Result<T> read_as(std::string_view json, std::string file, Complain complain) {
  const Source source{json, std::move(file)};
  const auto root = parse(source);
  if (!root)
    return fail(root.error());
  auto value = Reader(source).read<T>(*root);
  if (!value)
    return value;
  if (const std::optional<Complaint> complaint = complain(*value))
    return fail(located(source, *root, *complaint));
  return value;
}

} // namespace

Result<Build> read_build(std::string_view json, std::string file) {
  return read_as<Build>(json, std::move(file), [](const Build& build) { return first_complaint(build); });
}

Result<std::vector<StockItem>> read_stock(std::string_view json, std::string file) {
  auto stock =
      read_as<StockFile>(json, std::move(file), [](const StockFile& read) -> std::optional<Complaint> {
        if (auto complaint = Checker::check(read))
          return complaint;
        return doubled_id(read.items, "$.items");
      });
  if (!stock)
    return fail(stock.error());
  return std::move(stock->items);
}

Result<std::string> load_text(const std::filesystem::path& file) {
  const auto failed = [&](const std::string& words) {
    return fail(Error{
        {file.string(), 0, 0, {}}, words + ": " + file.string(), "the name of a file that can be read", {}});
  };
  struct stat status {};
  const int opened = ::open(file.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK);
  if (opened < 0)
    return failed(std::strerror(errno));
  const std::unique_ptr<const int, void (*)(const int*)> closer(&opened, [](const int* fd) { ::close(*fd); });
  if (::fstat(opened, &status) != 0)
    return failed(std::strerror(errno));
  if (!S_ISREG(status.st_mode))
    return failed(S_ISDIR(status.st_mode) ? "a folder" : "something that is not a file");
  std::string text;
  // One byte more than is allowed tells that there is too much.
  text.resize(std::min<std::size_t>(static_cast<std::size_t>(status.st_size), max_json_bytes) + 1);
  std::size_t size = 0;
  while (size < text.size()) {
    const ssize_t got = ::read(opened, text.data() + size, text.size() - size);
    if (got < 0 && errno == EINTR)
      continue;
    if (got < 0)
      return failed(std::strerror(errno));
    if (got == 0)
      break;
    size += static_cast<std::size_t>(got);
  }
  text.resize(size);
  return text;
}

Result<Build> load_build(const std::filesystem::path& file) {
  const auto text = load_text(file);
  if (!text)
    return fail(text.error());
  auto build = read_build(*text, file.string());
  if (!build)
    return build;
  return with_scans_loaded(*std::move(build), file.parent_path());
}

Build with_scans_loaded(Build build, const std::filesystem::path& folder) {
  std::map<std::string, Result<std::shared_ptr<const mesh::Scan>>> read; // by name: each file once
  for (KeepOut& keep_out : build.keep_outs) {
    auto* scan = std::get_if<Scan>(&keep_out.shape);
    if (scan == nullptr || scan->loaded)
      continue;
    auto found = read.find(scan->file);
    if (found == read.end()) // an absolute name stands for itself
      found = read.emplace(scan->file, mesh::load_scan(folder / scan->file)).first;
    if (const auto& loaded = found->second) {
      scan->loaded = *loaded;
      scan->problem.clear();
    } else {
      scan->problem = loaded.error().text();
    }
  }
  return build;
}

} // namespace bellmouth::build
