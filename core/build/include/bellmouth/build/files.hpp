// SPDX-License-Identifier: GPL-3.0-or-later
// Build files: JSON, strict reading, deterministic writing, atomic saving. The published schema stands in
// shared/schema.
#pragma once

#include <bellmouth/build/document.hpp>

#include <filesystem>
#include <string>
#include <string_view>

namespace bellmouth::build {

/// The format that this program writes, and the only one it reads so far.
inline constexpr std::string_view file_format = "bellmouth-build/1";

/// Reads a build from JSON text. Strict: unknown, missing, doubled and mistyped keys, values out of range and
/// names that lead nowhere are errors with line, column and JSON path. At most 64 MiB, 2 000 000 values and
/// 32 levels are read. `file` is the name to speak of.
[[nodiscard]] Result<Build> read_build(std::string_view json, std::string file = {});
/// Reads the scans that a build names and that are not loaded yet; names of files are seen from `folder`.
/// Where one cannot be read the build stands as it is, and the scan's `problem` says why.
[[nodiscard]] Build with_scans_loaded(Build build, const std::filesystem::path& folder);
/// The text of a file; of one with more than 64 MiB, a byte more than is read.
[[nodiscard]] Result<std::string> load_text(const std::filesystem::path& file);
/// Reads a file, and the scans that it names; what the system says of an unreadable file comes as an error
/// too.
[[nodiscard]] Result<Build> load_build(const std::filesystem::path& file);

/// How a build whose file lies in `folder` names another file: from the folder where the file lies beneath
/// it, else from the root. Nothing is looked up on the disk; an empty folder is none.
[[nodiscard]] std::string file_name_from(const std::filesystem::path& folder,
                                         const std::filesystem::path& file);
/// The build, which named scans and photographs from one folder, naming the same files from another.
[[nodiscard]] Build with_files_named_from(Build build, const std::filesystem::path& before,
                                          const std::filesystem::path& now);

/// Writes a build: keys in fixed order, shortest numbers, a newline at the end. Reading what was written and
/// writing it again gives the same bytes.
[[nodiscard]] std::string write_build(const Build& build);
/// Writes text to a temporary file beside `file`, flushes it to the disk and renames it: at any moment the
/// file is the old or the new one. Keeps the access rights of a file it replaces; replaces what a link points
/// to, not the link; refuses devices and folders. Errors carry the system's words; none leaves a temporary
/// file behind.
[[nodiscard]] Result<void> save_text(const std::filesystem::path& file, std::string_view text);
/// Saves a build. One that is not valid, and so could not be read again, is an error and nothing is written.
[[nodiscard]] Result<void> save_build(const std::filesystem::path& file, const Build& build);

/// Reads and writes stock items as files of shared/stock hold them ("bellmouth-stock/1").
[[nodiscard]] Result<std::vector<StockItem>> read_stock(std::string_view json, std::string file = {});
[[nodiscard]] std::string write_stock(const std::vector<StockItem>& items,
                                      const quantity::Currency& currency);

/// The JSON Schemas (draft 2020-12) of both files, made from the same description that reads and writes them.
[[nodiscard]] std::string build_schema();
[[nodiscard]] std::string stock_schema();

} // namespace bellmouth::build
