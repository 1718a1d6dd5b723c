using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Ingestion.Ledgers;
using Outcomes.Ingestion.Mapping;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Cli.Definitions;

/// <summary>A pipeline file, read and checked: what to read, what to count, how to report.</summary>
public sealed record PipelineDefinition
{
    /// <summary>Absolute path of the file, and its name in messages.</summary>
    public required string Path { get; init; }

    public required string File { get; init; }

    /// <summary>Absolute path of the folder that relative paths start from.</summary>
    public required string Folder { get; init; }

    public required string Name { get; init; }

    public DateOnly? AsOf { get; init; }

    public required ImmutableArray<PipelineSource> Sources { get; init; }

    /// <summary>The file of independent monthly counts; null without one.</summary>
    public CountsSource? Capture { get; init; }

    /// <summary>Path of the local fields file; null without one.</summary>
    public string? LocalFields { get; init; }

    /// <summary>Which fields the form asks for; null for all.</summary>
    public FormRequest? Form { get; init; }

    /// <summary>Paths of measure files or folders; <c>shipped</c> stands for the catalogue of the tool.</summary>
    public ImmutableArray<DefinitionPath> Measures { get; init; } = [];

    public ImmutableArray<DefinitionPath> Consistency { get; init; } = [];

    public ImmutableArray<DefinitionPath> Flags { get; init; } = [];

    public ImmutableArray<DefinitionPath> Derived { get; init; } = [];

    public ImmutableArray<DefinitionPath> Sections { get; init; } = [];

    /// <summary>Files and folders of saved questions.</summary>
    public ImmutableArray<DefinitionPath> Questions { get; init; } = [];

    /// <summary>What review meetings decided, by the file of actions and by minutes.</summary>
    public ImmutableArray<ActionEntry> Actions { get; init; } = [];

    /// <summary>What they learned, by minutes.</summary>
    public ImmutableArray<MeetingLearning> Learning { get; init; } = [];

    /// <summary>The file of actions, from the folder; null without one.</summary>
    public string? ActionsFile { get; init; }

    /// <summary>The folder of minutes, from the folder; null without one.</summary>
    public string? Minutes { get; init; }

    /// <summary>True when the tool's own rules apply, those about whole months included.</summary>
    public bool ShippedRules => Consistency.Any(path => path.IsShipped);

    public ImmutableArray<PipelineWord> Strata { get; init; } = [];

    public ImmutableArray<PipelineWord> Headline { get; init; } = [];

    /// <summary>
    /// First month and length of the run charts' baseline; null is the first 12 months, <see cref="WholeBaseline"/> the whole period.
    /// </summary>
    public (Month From, int Months)? Baseline { get; init; }

    public bool WholeBaseline { get; init; }

    /// <summary>How much evidence a change signal asks for.</summary>
    public Pace Pace { get; init; } = Pace.Default;

    /// <summary>What the department declares to have changed, by date.</summary>
    public ImmutableArray<ChangeEntry> Changes { get; init; } = [];

    /// <summary>A span that every run chart is drawn by; null lets the volume decide.</summary>
    public PointSpan? Span { get; init; }

    /// <summary>The measures to judge against their case mix; null without any.</summary>
    public CaseMixRequest? CaseMix { get; init; }

    /// <summary>Values of fields that a source does not collect, taken as given for every record of it.</summary>
    public ImmutableDictionary<string, string> Assume { get; init; } = ImmutableDictionary<string, string>.Empty;

    /// <summary>Line of <c>assume</c>, for messages.</summary>
    public int AssumeLine { get; init; }

    /// <summary>Whether records are searched whose values do not fit one another.</summary>
    public bool UnusualRecords { get; init; }

    public DuplicatePolicy Duplicates { get; init; }

    public bool Strict { get; init; }

    /// <summary>Highest share of rows in that may be quarantined, 0 to 1.</summary>
    public double Tolerance { get; init; } = 0.05;

    public Audience Audience { get; init; }

    /// <summary>Whether the output holds the normalised records for researchers.</summary>
    public bool ExportRecords { get; init; } = true;

    /// <summary>True when the records are invented: the report says so.</summary>
    public bool Invented { get; init; }

    /// <summary>Absolute path of the record store.</summary>
    public required string Store { get; init; }
}

/// <summary>A source of the pipeline.</summary>
/// <param name="Name">Its name, the key under <c>sources</c>.</param>
/// <param name="Path">Absolute path of the file.</param>
/// <param name="File">The file as the pipeline writes it.</param>
/// <param name="Exported">When it was exported; decides the order of sources where given.</param>
/// <param name="Mapping">Its mapping.</param>
public sealed record PipelineSource(string Name, string Path, string File, DateOnly? Exported, SourceMapping Mapping)
{
    /// <summary>Quarantine files with mended rows of this source, in the order given.</summary>
    public ImmutableArray<MendedRows> Mended { get; init; } = [];

    /// <summary>True where the export holds several rows of one key on purpose, the last of which counts.</summary>
    public bool RepeatedKeysExpected { get; init; }
}

/// <summary>A mended quarantine file: its absolute path, and as the pipeline writes it.</summary>
public sealed record MendedRows(string Path, string File);

/// <summary>A path to definitions and where the pipeline names it.</summary>
public sealed record DefinitionPath(string Path, string Shown, int Line)
{
    public const string ShippedWord = "shipped";

    public bool IsShipped => Shown == ShippedWord;
}

/// <summary>A name that the pipeline uses, with its line for messages.</summary>
public sealed record PipelineWord(string Word, int Line);

/// <summary>A file of independent counts: its absolute path, and as the pipeline writes it.</summary>
public sealed record CountsSource(string Path, string File);
