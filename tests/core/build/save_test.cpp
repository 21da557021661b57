// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/build/text_files.hpp"
#include "support/sample_builds.hpp"

#include <bellmouth/build.hpp>

#include <gtest/gtest.h>

#include <chrono>
#include <csignal>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

namespace bellmouth::build {
namespace {

namespace fs = std::filesystem;

/// Runs `work` in a process of its own; returns its exit code.
template <class Work> int in_child(Work work) {
  const pid_t child = ::fork();
  if (child == 0)
    ::_exit(work());
  int status = 0;
  EXPECT_EQ(::waitpid(child, &status, 0), child);
  return WIFEXITED(status) ? WEXITSTATUS(status) : 255;
}

TEST(Save, WritesAndReplaces) {
  const test::TemporaryFolder folder;
  const fs::path file = folder.path() / "a b\xC3\xA9.json";
  ASSERT_TRUE(save_text(file, "one").has_value());
  EXPECT_EQ(test::file_text(file), "one");
  const std::string large(3 << 20, 'x');
  ASSERT_TRUE(save_text(file, large).has_value());
  EXPECT_EQ(test::file_text(file), large);
  ASSERT_TRUE(save_text(file, "").has_value());
  EXPECT_EQ(test::file_text(file), "");
  EXPECT_EQ(folder.entries(), 1);
}

TEST(Save, TakesANameInTheCurrentFolder) {
  const test::TemporaryFolder folder;
  const int exit_code = in_child([&] {
    fs::current_path(folder.path());
    return save_text("new.json", "one").has_value() ? 0 : 1;
  });
  EXPECT_EQ(exit_code, 0);
  EXPECT_EQ(test::file_text(folder.path() / "new.json"), "one");
}

TEST(Save, BuildsComeBack) {
  const test::TemporaryFolder folder;
  const fs::path file = folder.path() / "build.json";
  ASSERT_TRUE(save_build(file, test::sample_build()).has_value());
  const auto read = load_build(file);
  ASSERT_TRUE(read.has_value()) << read.error().text();
  EXPECT_EQ(*read, test::sample_build());
}

TEST(Save, ABuildThatCouldNotBeReadIsNotWritten) {
  const test::TemporaryFolder folder;
  const fs::path file = folder.path() / "build.json";
  test::write_file(file, "old");
  Build build = test::sample_build();
  build.plenum_exit_loss = 2;
  const auto saved = save_build(file, build);
  ASSERT_FALSE(saved.has_value());
  EXPECT_EQ(saved.error().place.file, file.string());
  EXPECT_EQ(saved.error().place.path, "$.plenum_exit_loss");
  EXPECT_EQ(test::file_text(file), "old");
}

TEST(Save, KeepsAccessAndLinks) {
  const test::TemporaryFolder folder;
  const fs::path file = folder.path() / "real.json";
  const fs::path link = folder.path() / "link.json";
  test::write_file(file, "old");
  fs::permissions(file, fs::perms(0640));
  fs::create_symlink("real.json", link);
  ASSERT_TRUE(save_text(link, "new").has_value());
  EXPECT_TRUE(fs::is_symlink(link));
  EXPECT_EQ(test::file_text(file), "new");
  EXPECT_EQ(fs::status(file).permissions(), fs::perms(0640));
  EXPECT_EQ(folder.entries(), 2);
}

TEST(Save, GivesNewFilesTheUsualAccess) {
  const test::TemporaryFolder folder;
  const fs::path file = folder.path() / "new.json";
  EXPECT_EQ(in_child([&] {
              ::umask(027);
              return save_text(file, "text") ? 0 : 1;
            }),
            0);
  EXPECT_EQ(fs::status(file).permissions(), fs::perms(0640));
}

TEST(Save, SaysWhatTheSystemSays) {
  const test::TemporaryFolder folder;
  test::write_file(folder.path() / "file", "text");
  struct Case {
    fs::path file;
    std::string found;
  };
  for (const Case& c : {Case{folder.path() / "none" / "x.json", "No such file or directory"},
                        Case{folder.path() / "file" / "x.json", "Not a directory"},
                        Case{folder.path(), "something that is not a file"},
                        Case{folder.path() / std::string(300, 'x'), "File name too long"}}) {
    const auto saved = save_text(c.file, "text");
    ASSERT_FALSE(saved.has_value()) << c.file;
    EXPECT_TRUE(saved.error().found.starts_with(c.found)) << saved.error().found;
    EXPECT_EQ(saved.error().place.file, c.file.string());
    EXPECT_FALSE(saved.error().accepted.empty());
  }
  EXPECT_EQ(folder.entries(), 1);
}

TEST(Save, LeavesDevicesAlone) {
  const test::TemporaryFolder folder;
  fs::create_symlink("/dev/full", folder.path() / "full.json");
  const auto saved = save_text(folder.path() / "full.json", "text");
  ASSERT_FALSE(saved.has_value());
  EXPECT_EQ(saved.error().found, "something that is not a file");
  EXPECT_TRUE(fs::is_character_file("/dev/full"));
}

TEST(Save, AFolderThatMayNotBeWrittenKeepsTheOldFile) {
  const test::TemporaryFolder folder;
  const fs::path file = folder.path() / "build.json";
  test::write_file(file, "old");
  fs::permissions(folder.path(), fs::perms(0555));
  // The superuser may write anywhere, so the child becomes somebody else.
  constexpr uid_t nobody = 65534;
  const int code = in_child([&] {
    if (::geteuid() == 0 && ::setuid(nobody) != 0)
      return 2;
    const auto saved = save_text(file, "new");
    return !saved && saved.error().found.starts_with("Permission denied") ? 0 : 1;
  });
  fs::permissions(folder.path(), fs::perms::owner_all);
  EXPECT_EQ(code, 0);
  EXPECT_EQ(test::file_text(file), "old");
  EXPECT_EQ(folder.entries(), 1);
}

// A disk that takes so many bytes and no more: the limit on the size of files acts on every write.
TEST(Save, ADiskThatFailsAfterSomeBytesKeepsTheOldFile) {
  const test::TemporaryFolder folder;
  const fs::path file = folder.path() / "build.json";
  test::write_file(file, "old");
  const std::string text = write_build(test::sample_build());
  for (const rlim_t room : {rlim_t{0}, rlim_t{1}, rlim_t{4096}, rlim_t{text.size() - 1}}) {
    const int code = in_child([&] {
      ::signal(SIGXFSZ, SIG_IGN);
      const rlimit limit{room, room};
      if (::setrlimit(RLIMIT_FSIZE, &limit) != 0)
        return 2;
      const auto saved = save_text(file, text);
      return !saved && saved.error().found == "File too large while writing" ? 0 : 1;
    });
    EXPECT_EQ(code, 0) << room;
    EXPECT_EQ(test::file_text(file), "old");
    EXPECT_EQ(folder.entries(), 1) << "no temporary file may stay";
  }
}

// Whenever the process is killed, the file is the old one or the new one.
TEST(Save, AKillAtAnyMomentLeavesTheOldOrTheNewFile) {
  const test::TemporaryFolder folder;
  const fs::path file = folder.path() / "build.json";
  const std::string one(200000, '1');
  const std::string two(300000, '2');
  test::write_file(file, one);
  int seen_one = 0;
  int seen_two = 0;
  for (int i = 0; i < 60; ++i) {
    const pid_t child = ::fork();
    if (child == 0) {
      for (;;) {
        (void)save_text(file, two);
        (void)save_text(file, one);
      }
    }
    std::this_thread::sleep_for(std::chrono::microseconds(300 + 137 * i));
    ASSERT_EQ(::kill(child, SIGKILL), 0);
    ASSERT_EQ(::waitpid(child, nullptr, 0), child);
    const std::string text = test::file_text(file);
    ASSERT_TRUE(text == one || text == two)
        << "after kill " << i << " the file has " << text.size() << " bytes";
    (text == one ? seen_one : seen_two) += 1;
  }
  EXPECT_GT(seen_one, 0);
  EXPECT_GT(seen_two, 0);
}

} // namespace
} // namespace bellmouth::build
