using System.Collections.Immutable;
using Outcomes.Records;

namespace Outcomes.Measures.Catalogue;

/// <summary>A researcher's question as it is asked, linked to and saved: one measure, of whom, when, and against what.</summary>
/// <param name="Measure">Id of the measure.</param>
public sealed record QuestionDefinition(string Measure)
{
    /// <summary>Its heading; empty where it has none.</summary>
    public string Title { get; init; } = "";

    /// <summary>First and last month; null for the report's last 12 months.</summary>
    public Month? From { get; init; }

    public Month? To { get; init; }

    /// <summary>The condition that all its records meet beside what the measure asks; empty for none.</summary>
    public string Among { get; init; } = "";

    /// <summary>Fields and derived columns to split it by, two at most.</summary>
    public ImmutableArray<string> By { get; init; } = [];

    /// <summary>The condition of the second cohort; empty for none, or for the first one's where only the months differ.</summary>
    public string Versus { get; init; } = "";

    /// <summary>The months of the second cohort; null for the first one's.</summary>
    public Month? VersusFrom { get; init; }

    public Month? VersusTo { get; init; }

    /// <summary>A difference in percentage points for which the number of records needed is asked; null for none.</summary>
    public double? Points { get; init; }

    /// <summary>The file that it was read from, for messages; empty where it was asked on the spot.</summary>
    public string File { get; init; } = "";

    /// <summary>True where two cohorts are compared.</summary>
    public bool Compares => Versus.Length > 0 || VersusFrom is not null || VersusTo is not null;
}
