using System.Collections.Immutable;
using Outcomes.Records;

namespace Outcomes.Measures;

/// <summary>A stored row that breaks a consistency rule.</summary>
/// <param name="Source">The source's order.</param>
/// <param name="Row">0-based row in it.</param>
/// <param name="Line">Physical line, 1-based.</param>
/// <param name="Rule">Index of the rule in <see cref="EngineOptions.Rules"/>.</param>
public readonly record struct RuleBreach(int Source, int Row, int Line, int Rule);

/// <summary>A rule that was not judged in a source that does not collect some of its fields.</summary>
public sealed record SkippedRule(string Rule, string Source, ImmutableArray<string> Fields);

/// <summary>A measure that has no figures from a source, and the fields that source would have to collect.</summary>
public sealed record NotCollected(string Measure, string Source, ImmutableArray<string> Fields);

/// <summary>A measure whose figures from a source rest on assumptions about fields it does not collect.</summary>
public sealed record RestsOnAssumption(string Measure, string Source, ImmutableArray<string> Fields);

/// <summary>Counts by measure, month, stratum and level; only cells that are not empty.</summary>
/// <param name="Rows">In the order of measures and strata as asked, then level, then month.</param>
/// <param name="NotCollected">What could not be counted, and why.</param>
/// <param name="Assumptions">What rests on an assumption.</param>
/// <param name="StrataNotCollected">Strata left out because no source collects them.</param>
public sealed record CountResult(ImmutableArray<CountRow> Rows, ImmutableArray<NotCollected> NotCollected,
    ImmutableArray<RestsOnAssumption> Assumptions, ImmutableArray<string> StrataNotCollected);

/// <summary>
/// How many eligible records have one whole-unit value of a quantity; <paramref name="Value"/> is null for those where it is missing.
/// </summary>
public readonly record struct ValueRow(string Measure, Month Month, string Stratum, string Level, int? Value, long N);

/// <summary>Quantities by value, month, stratum and level.</summary>
public sealed record ValueResult(ImmutableArray<ValueRow> Rows, ImmutableArray<NotCollected> NotCollected,
    ImmutableArray<RestsOnAssumption> Assumptions, ImmutableArray<string> StrataNotCollected);

/// <summary>Records counted in one month.</summary>
public readonly record struct MonthRecords(Month Month, long Records);

/// <summary>Records of one month that have one value of a field; <paramref name="Level"/> is null for those without any.</summary>
public readonly record struct LevelCount(Month Month, string? Level, long Records)
{
    /// <summary>Their site, where asked by site; null for those that name none.</summary>
    public string? Site { get; init; }
}

/// <summary>A record that agrees with another in everything it was compared by.</summary>
/// <param name="Source">The source's order.</param>
/// <param name="Line">Physical line, 1-based.</param>
/// <param name="RecordId">Its key.</param>
public readonly record struct AlikeRecord(int Source, int Line, string RecordId);

/// <summary>Some quantities of a record.</summary>
/// <param name="Source">The source's order.</param>
/// <param name="Line">Physical line, 1-based.</param>
/// <param name="RecordId">Its key.</param>
/// <param name="Values">A value a field asked; <see cref="double.NaN"/> where it is missing.</param>
public readonly record struct RecordQuantities(int Source, int Line, string RecordId, ImmutableArray<double> Values);

/// <summary>How complete one field is among the records of sources that collect it.</summary>
public readonly record struct Completeness(string Field, long Known, long Records);

/// <summary>How complete one field is in one month.</summary>
public readonly record struct MonthCompleteness(string Field, Month Month, long Known, long Records);

/// <summary>The answer to a query: column names and rows in the order that the query gives.</summary>
public sealed record QueryResult(ImmutableArray<string> Columns, IReadOnlyList<object?[]> Rows);

/// <summary>One record that counts, as it was recorded.</summary>
/// <param name="Source">The source's order.</param>
/// <param name="Row">0-based row in it.</param>
/// <param name="RecordId">Its key.</param>
/// <param name="Fired">Indexes of the flags that fired, ascending.</param>
/// <param name="Values">Values of the columns asked, as a person writes them (yes, no, a code, a number); a missing one is absent.</param>
public sealed record JudgedRecord(
    int Source, int Row, string RecordId, ImmutableArray<int> Fired, ImmutableDictionary<string, string> Values)
{
    /// <summary>What each measure says of it, in their order; set apart by <see cref="Engine.Review"/>.</summary>
    public ImmutableArray<Catalogue.Answer> Answers { get; init; } = [];
}

/// <summary>How many records of a month have a flag as the highest that fires on them.</summary>
/// <param name="Month">The month.</param>
/// <param name="Flag">The flag's place among those asked.</param>
/// <param name="Records">How many.</param>
public readonly record struct HighestCount(Month Month, int Flag, long Records);

/// <summary>A record and the highest flag that fires on it.</summary>
/// <param name="Month">Its month.</param>
/// <param name="RecordId">Its key.</param>
/// <param name="Flag">The flag's place among those asked.</param>
public readonly record struct HighestRecord(Month Month, string RecordId, int Flag);

/// <summary>A flag that was not judged in a source that does not collect some of its fields.</summary>
public sealed record SkippedFlag(string Flag, string Source, ImmutableArray<string> Fields);
