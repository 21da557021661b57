// SPDX-License-Identifier: GPL-3.0-or-later
// The published schemas are those of the code, and an independent validator (Python's jsonschema) agrees with
// the reader.
#include "core/build/text_files.hpp"
#include "support/command_output.hpp"
#include "support/sample_builds.hpp"

#include <bellmouth/build.hpp>

#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

namespace bellmouth::build {
namespace {

const std::filesystem::path schemas = std::filesystem::path(BELLMOUTH_SHARED_DIR) / "schema";

TEST(Schema, PublishedFilesAreThoseOfTheCode) {
  for (const auto& [name, made] :
       {std::pair{"build.schema.json", build_schema()}, {"stock.schema.json", stock_schema()}}) {
    const bool same = test::file_text(schemas / name) == made;
    const auto anew = std::filesystem::temp_directory_path() / name;
    if (!same) {
      std::ofstream(anew, std::ios::binary) << made;
    }
    EXPECT_TRUE(same) << "the keys have changed; look at the difference, then: cp " << anew
                      << " shared/schema/";
  }
}

/// What the validator says of each file: "valid", "invalid" or "not JSON".
std::vector<std::string> judged(const std::filesystem::path& schema,
                                const std::vector<std::filesystem::path>& files) {
  // RFC 8259 has no NaN and no infinity, and leaves keys that come twice open; both are faults here.
  std::string command =
      "python3 -c '"
      "import json, sys\n"
      "from jsonschema import Draft202012Validator as V\n"
      "def refuse(text): raise ValueError(text)\n"
      "def number(text):\n"
      "  value = float(text)\n"
      "  return value if abs(value) < 1e308 else refuse(text)\n"
      "def once(pairs): return dict(pairs) if len(dict(pairs)) == len(pairs) else refuse(str(pairs))\n"
      "schema = json.load(open(sys.argv[1], encoding=\"utf-8\"))\n"
      "V.check_schema(schema)\n"
      "for name in sys.argv[2:]:\n"
      "  try:\n"
      "    value = json.load(open(name, encoding=\"utf-8\"), parse_float=number, parse_constant=refuse, "
      "object_pairs_hook=once)\n"
      "  except (ValueError, RecursionError):\n"
      "    print(\"not JSON\")\n"
      "    continue\n"
      "  print(\"valid\" if V(schema).is_valid(value) else \"invalid\")\n"
      "' '" +
      schema.string() + "'";
  for (const auto& file : files)
    command += " '" + file.string() + "'";
  std::istringstream lines(test::said_by(command));
  std::vector<std::string> words;
  for (std::string line; std::getline(lines, line);)
    words.push_back(line);
  EXPECT_EQ(words.size(), files.size());
  words.resize(files.size());
  return words;
}

TEST(Schema, WhatIsWrittenIsValid) {
  const test::TemporaryFolder folder;
  std::vector<std::filesystem::path> files;
  for (const Build& build : test::all_sample_builds()) {
    files.push_back(folder.path() / (std::to_string(files.size()) + ".json"));
    ASSERT_TRUE(save_build(files.back(), build).has_value());
  }
  EXPECT_EQ(judged(schemas / "build.schema.json", files), std::vector<std::string>(files.size(), "valid"));
  const auto stock = folder.path() / "stock.json";
  test::write_file(stock, write_stock(test::sample_stock(), test::euro()));
  EXPECT_EQ(judged(schemas / "stock.schema.json", {stock}), std::vector<std::string>{"valid"});
  EXPECT_EQ(judged(schemas / "build.schema.json", {stock}), std::vector<std::string>{"invalid"});
}

// Every key that the schema knows stands in a sample, so that none goes unread, unwritten or unchecked.
TEST(Schema, SamplesHoldEveryKey) {
  const test::TemporaryFolder folder;
  std::string command = "python3 -c '"
                        "import json, sys\n"
                        "from jsonschema import Draft202012Validator as V\n"
                        "known, held = set(), set()\n"
                        "def keys(schema, path):\n"
                        "  for form in schema.get(\"oneOf\", [schema]):\n"
                        "    if \"items\" in form: keys(form[\"items\"], path + \"[]\")\n"
                        "    for key, inner in form.get(\"properties\", {}).items():\n"
                        "      known.add(path + \".\" + key)\n"
                        "      keys(inner, path + \".\" + key)\n"
                        "def look(value, path):\n"
                        "  for each in value if isinstance(value, list) else []: look(each, path + \"[]\")\n"
                        "  for key, inner in value.items() if isinstance(value, dict) else []:\n"
                        "    held.add(path + \".\" + key)\n"
                        "    look(inner, path + \".\" + key)\n"
                        "keys(json.load(open(sys.argv[1], encoding=\"utf-8\")), \"$\")\n"
                        "for name in sys.argv[2:]: look(json.load(open(name, encoding=\"utf-8\")), \"$\")\n"
                        "print(*sorted(known - held) or [\"none\"], len(known) > 150)\n"
                        "' '" +
                        (schemas / "build.schema.json").string() + "'";
  int number = 0;
  for (const Build& build : test::all_sample_builds()) {
    const auto file = folder.path() / (std::to_string(number++) + ".json");
    ASSERT_TRUE(save_build(file, build).has_value());
    command += " '" + file.string() + "'";
  }
  EXPECT_EQ(test::said_by(command), "none True\n");
}

// The files of malformed/ say themselves what a schema can tell of them: "rejects", "cannot tell" (rules
// between values), "not JSON".
TEST(Schema, JudgesMalformedFilesAsTheReaderDoes) {
  std::vector<std::filesystem::path> files;
  std::vector<std::string> expected;
  for (const auto& entry : std::filesystem::directory_iterator(test::build_tests_dir() / "malformed")) {
    if (entry.path().extension() != ".json")
      continue;
    files.push_back(entry.path());
    std::filesystem::path beside = entry.path();
    const std::string text = test::file_text(beside.replace_extension(".expected"));
    expected.emplace_back(text.find("schema: rejects") != std::string::npos       ? "invalid"
                          : text.find("schema: cannot tell") != std::string::npos ? "valid"
                                                                                  : "not JSON");
  }
  ASSERT_GE(files.size(), 150u);
  const auto words = judged(schemas / "build.schema.json", files);
  for (std::size_t i = 0; i < files.size(); ++i)
    EXPECT_EQ(words[i], expected[i]) << files[i].filename();
}

} // namespace
} // namespace bellmouth::build
