using System.Collections.Immutable;

namespace Outcomes.Reporting.Model;

/// <summary>What is missing, whose column it is, since when, and what to ask for.</summary>
/// <param name="Field">The field's name.</param>
/// <param name="Title">Its heading for people.</param>
/// <param name="Missing">Records without a value in the last 12 months.</param>
/// <param name="Of">Records asked in them.</param>
/// <param name="Since">Since when; null when it is missing here and there.</param>
/// <param name="Columns">The heading in the file, with the file where several hold it; empty where no source collects it.</param>
/// <param name="Invalid">Cells that held text but no value.</param>
/// <param name="Measures">Titles of headline measures that need it.</param>
public sealed record DataQuestion(
    string Field, string Title, long Missing, long Of, MissingSince? Since, ImmutableArray<string> Columns, long Invalid, ImmutableArray<string> Measures)
{
    private const double Worth = 0.05;

    /// <summary>Not collected at all, or missing in more than 5 % of records, or newly missing.</summary>
    public bool IsWorthAsking => Columns.IsEmpty || (Of > 0 && (Since is not null || Missing > Worth * Of));

    /// <summary>Missing share; 1 where it is not collected.</summary>
    public double Share => Columns.IsEmpty ? 1 : Of == 0 ? 0 : Missing / (double)Of;

    /// <summary>The worst first: what headline measures need before the rest, then by the missing share.</summary>
    public static ImmutableArray<DataQuestion> WorstFirst(IEnumerable<DataQuestion> questions) =>
    [
        .. questions.Where(question => question.IsWorthAsking)
            .OrderByDescending(question => !question.Measures.IsEmpty).ThenByDescending(question => question.Share).ThenBy(question => question.Field, StringComparer.Ordinal),
    ];

    public string WhatIsMissing => Columns.IsEmpty ? "not collected" : $"{Wording.Number(Missing)}/{Wording.Number(Of)}";

    public string SinceWhen => Columns.IsEmpty ? "" : Since is not { } since ? "now and then" : since.FromTheStart ? "from the start" : Wording.Name(since.Month);

    /// <summary>What to ask for, in a sentence.</summary>
    public string Ask =>
        Columns.IsEmpty ? "Ask for this column in the export, and map it."
        : Invalid * 2 > Missing ? $"{Wording.Number(Invalid)} cells hold something that is no value: correct the codes or the mapping."
        : Since is { FromTheStart: true } && Missing == Of ? "The column is empty: ask whether the form still asks for it."
        : Since is { FromTheStart: false } since ? $"Ask what changed in the form or the export in {Wording.Name(since.Month)}."
        : Since is not null ? "Ask whether the form asks for it of every patient, and have it filled in at entry."
        : "Have it filled in at entry; ask those who leave it blank why.";
}

/// <summary>How many of the records that may belong to a measure could be judged, and the fields that were missing most.</summary>
public sealed record MeasureCompleteness(string Title, long Judged, long Of, ImmutableArray<FieldCompleteness> Weakest);
