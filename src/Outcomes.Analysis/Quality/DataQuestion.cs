using System.Collections.Immutable;

namespace Outcomes.Analysis;

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
    string Field, string Title, long Missing, long Of, MissingSince? Since, ImmutableArray<string> Columns, long Invalid,
    ImmutableArray<string> Measures)
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
            .OrderByDescending(question => !question.Measures.IsEmpty).ThenByDescending(question => question.Share)
            .ThenBy(question => question.Field, StringComparer.Ordinal),
    ];
}
