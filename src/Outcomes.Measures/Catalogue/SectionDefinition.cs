using System.Collections.Immutable;

namespace Outcomes.Measures.Catalogue;

/// <summary>Where a section stands. All stand in the appendix in full.</summary>
public enum SectionPlace
{
    /// <summary>In the report too, on a side of its own.</summary>
    Report,

    /// <summary>In the report too, in months in which it is the one most worth reading.</summary>
    Turn,

    /// <summary>In the appendix alone.</summary>
    Appendix,
}

/// <summary>A question that the report answers by measures and strata.</summary>
/// <param name="Id">Its name in tables.</param>
/// <param name="Title">Its heading.</param>
/// <param name="Question">What it answers, in one sentence.</param>
public sealed record SectionDefinition(string Id, string Title, string Question)
{
    /// <summary>The word that stands for the headline measures.</summary>
    public const string Headline = "headline";

    /// <summary>The drawing of plans, from the first to the last.</summary>
    public const string Ladder = "ladder";

    /// <summary>What a reader must know to read the figures; empty for nothing.</summary>
    public string Note { get; init; } = "";

    public SectionPlace Place { get; init; }

    /// <summary>The last months that it looks at: 12, or more where levels are rare.</summary>
    public int Months { get; init; } = 12;

    /// <summary>Ids of measures, proportions and quantities; <see cref="Headline"/> stands for the headline measures.</summary>
    public ImmutableArray<string> Measures { get; init; } = [];

    /// <summary>Fields and derived columns to split them by; without any, the measures are listed one by one.</summary>
    public ImmutableArray<string> Strata { get; init; } = [];

    /// <summary>A condition that all records of the section meet beside what a measure asks; null for none.</summary>
    public string? Among { get; init; }

    /// <summary>Whom its measures are asked of, in place of those that they are defined for.</summary>
    public Population Population { get; init; }

    /// <summary>What is set beside each other; null for nothing.</summary>
    public SectionComparison? Compare { get; init; }

    /// <summary>The stratum whose levels are read as 1, 2, 3 for a trend of the first measure.</summary>
    public string? Trend { get; init; }

    /// <summary>
    /// What its side of the report draws beside its own chart: <see cref="Ladder"/>, or the id of a section whose chart stands there too;
    /// null for nothing.
    /// </summary>
    public string? Drawing { get; init; }

    /// <summary>Answers that records hold twice.</summary>
    public ImmutableArray<AgreementPair> Agreement { get; init; } = [];

    public string File { get; init; } = "";

    public int Line { get; init; }

    /// <summary>The line of <see cref="Drawing"/>.</summary>
    public int DrawingLine { get; init; }
}

/// <summary>Two levels of a yes/no column set beside each other.</summary>
/// <param name="By">The column, one of the section's strata.</param>
/// <param name="Measures">The measures that are compared; empty for all.</param>
/// <param name="Within">Columns within whose levels they are compared too.</param>
public sealed record SectionComparison(string By, ImmutableArray<string> Measures, ImmutableArray<string> Within);

/// <summary>One fact that records hold twice, from two places that were filled in apart.</summary>
/// <param name="Id">Its name in tables.</param>
/// <param name="Title">What is held twice.</param>
/// <param name="First">Where the one stands, in words.</param>
/// <param name="Second">Where the other stands.</param>
/// <param name="Answers">The answers, in order.</param>
public sealed record AgreementPair(string Id, string Title, string First, string Second, ImmutableArray<AgreementAnswer> Answers)
{
    public int Line { get; init; }
}

/// <summary>An answer and the conditions under which each place gives it.</summary>
public sealed record AgreementAnswer(string Title, string First, string Second);
