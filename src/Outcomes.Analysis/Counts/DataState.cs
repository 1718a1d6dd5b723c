using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>The state of the data that a department's counts rest on.</summary>
public sealed record DataState
{
    public ImmutableArray<InputFile> Inputs { get; init; } = [];

    /// <summary>One row a file that came in.</summary>
    public ImmutableArray<Reconciliation> Reconciliations { get; init; } = [];

    /// <summary>Findings by rule; see <see cref="FindingGroup.Of"/>.</summary>
    public ImmutableArray<FindingGroup> Findings { get; init; } = [];

    /// <summary>The core fields, and those that a figure rests on.</summary>
    public ImmutableArray<Field> Fields { get; init; } = [];

    /// <summary>How complete those fields are in the last 12 months.</summary>
    public ImmutableArray<Completeness> Completeness { get; init; } = [];

    /// <summary>What is missing and what to ask for, worst first.</summary>
    public ImmutableArray<DataQuestion> Questions { get; init; } = [];

    /// <summary>The fields behind each measure, by measure id.</summary>
    public ImmutableDictionary<string, ImmutableArray<string>> FieldsBehind { get; init; } =
        ImmutableDictionary<string, ImmutableArray<string>>.Empty;

    /// <summary>Rules that some source cannot be judged by.</summary>
    public ImmutableArray<SkippedRule> SkippedRules { get; init; } = [];

    /// <summary>Flags that some source cannot be judged by.</summary>
    public ImmutableArray<SkippedFlag> SkippedFlags { get; init; } = [];
}
