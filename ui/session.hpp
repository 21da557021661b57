// SPDX-License-Identifier: GPL-3.0-or-later
// The working state behind the window: the history of builds, which one is shown, its evaluation, and what is
// selected. Views read from here and are told what differs; they compute nothing themselves. Edits come back
// as whole new builds.
#pragma once

#include <bellmouth/buy.hpp>
#include <bellmouth/evaluate.hpp>

#include <QObject>
#include <QString>
#include <QTimer>

#include <array>
#include <memory>
#include <optional>
#include <variant>
#include <vector>

namespace bellmouth::ui {

/// What differs from what the views were shown last; several may be set at once.
enum class Change : unsigned {
  document = 1U << 0U,   ///< the build (and with it the evaluation)
  evaluation = 1U << 1U, ///< figures only: other engine speed or option
  selection = 1U << 2U,
  file = 1U << 3U,  ///< file name, saved or not, what undo and redo would do
  rival = 1U << 4U, ///< the option compared with, or its evaluation
  weighing =
      1U
      << 5U, ///< what the parts cost and how wide the bands are: follows each evaluation, once there is time
  bay_state = 1U << 6U, ///< the state of the bay that is looked at
  purchase = 1U << 7U,  ///< what is to be bought, and what the checks say of it: follows each build, once
                        ///< there is time
};
Q_DECLARE_FLAGS(Changes, Change)
Q_DECLARE_OPERATORS_FOR_FLAGS(Changes)

/// What the user has picked: nothing, a row of a run, a machine, a whole run, a port, or a keep-out.
struct PickedPiece {
  build::RunId run;
  std::size_t row = 0;
  friend bool operator==(const PickedPiece&, const PickedPiece&) = default;
};
struct PickedMachine {
  build::MachineId machine;
  friend bool operator==(const PickedMachine&, const PickedMachine&) = default;
};
struct PickedRun {
  build::RunId run;
  friend bool operator==(const PickedRun&, const PickedRun&) = default;
};
struct PickedPort {
  build::PortId port;
  friend bool operator==(const PickedPort&, const PickedPort&) = default;
};
struct PickedKeepOut {
  std::size_t index = 0; ///< among the build's keep-outs
  friend bool operator==(const PickedKeepOut&, const PickedKeepOut&) = default;
};
using Selection =
    std::variant<std::monostate, PickedPiece, PickedMachine, PickedRun, PickedPort, PickedKeepOut>;

class Session : public QObject {
  Q_OBJECT

public:
  /// The build must be valid (an assertion).
  explicit Session(build::Build build, QString file = {}, QObject* parent = nullptr);

  /// \name What is shown
  ///@{
  [[nodiscard]] const build::Build& build() const;
  [[nodiscard]] const Evaluation& evaluation() const;
  [[nodiscard]] const build::OptionId& option() const;
  [[nodiscard]] double engine_speed_rev_s() const;
  /// The option shown beside, and its evaluation at the same engine speed; unset when there is only one
  /// option.
  [[nodiscard]] const std::optional<build::OptionId>& rival() const;
  [[nodiscard]] const Evaluation* rival_evaluation() const;
  /// What the parts of either option cost and how wide its bands are; nullptr where its flow is not usable,
  /// or there is no such option. Worked out when it is asked for first, which takes milliseconds: views that
  /// need not hurry wait for Change::weighing.
  [[nodiscard]] const Weighing* weighing() const;
  [[nodiscard]] const Weighing* rival_weighing() const;
  /// Whether Change::weighing is still to come for what is shown.
  [[nodiscard]] bool weighing_is_due() const;
  /// What is bought for either option, and from what its pieces are cut; nullptr: there is no such option.
  /// Worked out when it is asked for first, which can take up to a second: views that need not hurry wait for
  /// Change::purchase.
  [[nodiscard]] const buy::Purchase& purchase() const;
  [[nodiscard]] const buy::Purchase* rival_purchase() const;
  /// The same for the shown option with another aim.
  [[nodiscard]] const buy::Purchase& purchase_with(buy::Aim aim) const;
  /// The purchase of either option as far as it has been worked out: it may be that of the build before.
  [[nodiscard]] const buy::Purchase* last_purchase() const;
  [[nodiscard]] const buy::Purchase* last_rival_purchase() const;
  /// Whether Change::purchase is still to come for what is shown.
  [[nodiscard]] bool purchase_is_due() const;
  /// What purchases are to be least in.
  [[nodiscard]] buy::Aim aim() const { return aim_; }
  /// What the checks say of the shown option: of its evaluation, and of its purchase as far as that has been
  /// worked out.
  [[nodiscard]] std::vector<check::Finding> findings() const;
  [[nodiscard]] std::vector<check::Finding> rival_findings() const;
  [[nodiscard]] const Selection& selection() const;
  /// The state of the bay that is looked at; unset: at rest.
  [[nodiscard]] const std::optional<build::StateId>& bay_state() const { return bay_state_; }
  /// The picked piece of the shown option, or nullptr.
  [[nodiscard]] const build::Piece* picked_piece() const;
  ///@}

  /// \name Choosing (no history)
  ///@{
  void show_option(const build::OptionId& option);
  void compare_with(const std::optional<build::OptionId>& rival);
  /// Refuses, without an effect, what is not from the idle to the greatest speed of the engine, and any speed
  /// where there is no engine.
  std::optional<Error> set_engine_speed(double rev_s);
  /// Has purchases be least in something else.
  void set_aim(buy::Aim aim);
  void select(Selection selection);
  /// Looks at a state of the bay, which must be one of the build's (else nothing happens); none: at rest.
  void show_bay_state(const std::optional<build::StateId>& state);
  /// Has every view read everything again: the units or the words on the screen have changed.
  void show_everything_anew();
  ///@}

  /// \name Editing
  ///@{
  /// Makes `next` the newest build under the undo text `what` ("Change bore of hose 3"). An equal build makes
  /// no step. With a `merge_key` that equals the last step's, and nothing undone since, the last step is
  /// replaced: typing in one field is one step. An invalid build is refused: the error comes back and nothing
  /// changes.
  std::optional<Error> apply(build::Build next, const QString& what, const QString& merge_key = {});
  /// Shows a build without a step, for a drag under way; end with commit_preview() or cancel_preview().
  void preview(build::Build next);
  void commit_preview(const QString& what);
  void cancel_preview();
  [[nodiscard]] bool can_undo() const;
  [[nodiscard]] bool can_redo() const;
  [[nodiscard]] QString undo_text() const;
  [[nodiscard]] QString redo_text() const;
  void undo();
  void redo();
  ///@}

  /// \name File
  ///@{
  [[nodiscard]] const QString& file() const; ///< empty: never saved
  [[nodiscard]] bool modified() const;       ///< differs from what the file holds
  /// Saves under `file`; refuses to overwrite a file that somebody else changed since it was loaded or saved,
  /// unless `force`. In another folder the scans and photographs of all steps are named from there.
  std::optional<Error> save(const QString& file, bool force = false);
  /// Whether the file holds something else than what was loaded from it or saved to it last.
  [[nodiscard]] bool changed_on_disk() const;
  /// Starts over with another build.
  void replace(build::Build build, QString file);
  /// Starts over with a build that `file` does not hold: it counts as modified.
  void restore(build::Build build, QString file);
  /// Says that the build shown is a copy of a demo build; it is so until it is saved or replaced.
  void mark_demo();
  [[nodiscard]] bool is_demo() const;
  /// A number that grows with every new build shown; autosave compares it.
  [[nodiscard]] std::size_t revision() const;
  /// A number that grows whenever the session starts over: what was kept aside from one document has no
  /// business in the next.
  [[nodiscard]] std::size_t document_number() const;
  [[nodiscard]] bool previewing() const;
  ///@}

signals:
  void changed(bellmouth::ui::Changes changes);

private:
  struct Step {
    build::Build build;
    QString what;
    QString merge_key;
  };
  void start(build::Build build, QString file);
  void go_to(std::size_t step);
  /// Shows the build that is newest now, in place of `before`.
  void show_build(const build::Build& before);
  /// Evaluates what `changes` names and tells the views.
  void refresh(Changes changes);
  /// Makes option, rival, engine speed and selection lead to something in the build.
  void mend_references();

  std::vector<Step> history_;
  std::size_t at_ = 0;
  std::optional<build::Build> preview_;
  build::OptionId option_;
  std::optional<build::OptionId> rival_;
  double engine_speed_rev_s_ = 0;
  Selection selection_;
  std::optional<build::StateId> bay_state_;
  std::unique_ptr<Evaluation> evaluation_;
  std::unique_ptr<Evaluation> rival_evaluation_;
  /// Filled when first asked for; unset: not asked for yet.
  using Weighed = std::optional<std::optional<Weighing>>;
  mutable Weighed weighed_, rival_weighed_;
  [[nodiscard]] const Weighing* weighed(const Evaluation* evaluation, Weighed& kept) const;
  QTimer weighing_timer_;
  /// A purchase and what it is one of: it holds for any engine speed.
  struct Purchased {
    std::size_t revision = 0;
    build::OptionId option;
    buy::Aim aim = buy::Aim::money;
    buy::Purchase purchase = {};
    std::vector<check::Finding> findings = {};
  };
  mutable std::optional<Purchased> purchased_, rival_purchased_;
  mutable std::array<std::optional<Purchased>, 3> others_; ///< with each aim
  [[nodiscard]] bool holds(const std::optional<Purchased>& kept, const build::OptionId& option,
                           buy::Aim aim) const;
  const Purchased& bought(const build::OptionId& option, buy::Aim aim, std::optional<Purchased>& kept) const;
  [[nodiscard]] std::vector<check::Finding> findings_of(const Evaluation& evaluation,
                                                        const std::optional<Purchased>& kept) const;
  QTimer purchase_timer_;
  buy::Aim aim_ = buy::Aim::money;
  QString file_;
  std::string saved_text_;
  std::optional<build::Build> saved_; ///< unset: no file holds the build
  bool demo_ = false;
  std::size_t revision_ = 0;
  std::size_t document_number_ = 0;
};

} // namespace bellmouth::ui
