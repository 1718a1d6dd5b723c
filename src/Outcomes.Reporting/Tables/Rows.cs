using System.Collections.Immutable;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary>A row of <c>counts.csv</c>.</summary>
/// <param name="Measure">The measure's id.</param>
/// <param name="Period">ISO 8601 month (<c>2026-03</c>) or interval of months (<c>2025-04/2026-03</c>).</param>
/// <param name="Stratum"><c>all</c> or a field.</param>
/// <param name="Level"><c>all</c>, a value, or <c>(missing)</c>.</param>
/// <param name="Count">Met, eligible and missing.</param>
public readonly record struct CountsRow(string Measure, string Period, string Stratum, string Level, Count Count);

/// <summary>A row of <c>values.csv</c>: how many records have this whole-unit value.</summary>
public readonly record struct ValuesRow(string Measure, string Period, string Stratum, string Level, long Value, long N);

/// <summary>A row of <c>estimates.csv</c>; without an estimate (nothing eligible) its cells are empty.</summary>
public readonly record struct EstimatesRow(string Measure, string Period, string Stratum, string Level, Count Count, Estimate? Estimate);

/// <summary>A row of <c>runcharts.csv</c>.</summary>
/// <param name="Measure">The measure's id.</param>
/// <param name="Stratum"><c>all</c> or a field.</param>
/// <param name="Level"><c>all</c>, a value, or <c>(missing)</c>.</param>
/// <param name="From">First month of the chart.</param>
/// <param name="To">Last month of the chart.</param>
/// <param name="Chart">The chart.</param>
public readonly record struct RunChartsRow(string Measure, string Stratum, string Level, Month From, Month To, RunChart Chart);

/// <summary>A row of <c>signals.csv</c>.</summary>
public readonly record struct SignalsRow(
    string Measure, string Stratum, string Level, string Rule, Month From, Month To, double? FalseAlarm, string Source);

/// <summary>
/// A row of <c>change_odds.csv</c>: a month that is read against a history; the history's own count stands in its first row.
/// </summary>
/// <param name="Measure">The measure's id.</param>
/// <param name="Period">ISO 8601 month, or interval of months for the history.</param>
/// <param name="Part"><c>history</c> or <c>report</c>.</param>
/// <param name="Count">Its count.</param>
/// <param name="LogOdds">ln S of the counts alone after this month; null for the history and where there is too little to judge.</param>
/// <param name="Limit">What ln S must reach, with or without case mix.</param>
/// <param name="State">The state after this month by the counts alone.</param>
/// <param name="Expected">Events that the month's cases would have at the history's rate, given their case mix; null where that is not
/// followed.</param>
/// <param name="LogOddsGivenMix">ln S with the case mix inside; null where it is not followed.</param>
/// <param name="StateGivenMix">The state after this month given the case mix, which decides; empty where it is not followed.</param>
public readonly record struct ChangeOddsRow(
    string Measure, string Period, string Part, Count Count, double? LogOdds, double? Limit, string State, double? Expected,
    double? LogOddsGivenMix, string StateGivenMix);

/// <summary>A row of <c>quarantine.csv</c>: where it came from, why it is there, and its own cells as they were read.</summary>
/// <param name="Origin">The file, as the pipeline writes it: a mended row supersedes what came from there.</param>
/// <param name="Line">Physical line, 1-based.</param>
/// <param name="Reasons">Rule ids, separated by spaces.</param>
/// <param name="Cells">Its own cells, one a column.</param>
public readonly record struct QuarantineRow(string Origin, int Line, string Reasons, ImmutableArray<string> Cells);
