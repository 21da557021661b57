// SPDX-License-Identifier: GPL-3.0-or-later
// One function object out of several, for std::visit.
#pragma once

namespace bellmouth::build {

template <class... Fs> struct Overloaded : Fs... { using Fs::operator()...; };
template <class... Fs> Overloaded(Fs...) -> Overloaded<Fs...>;

} // namespace bellmouth::build
