using Outcomes.Records;
using Outcomes.Reporting.Drawings;

namespace Outcomes.Cli.Output;

/// <summary>
/// What the command line adds to a pipeline file. All of it goes into what <see cref="PreviousRun"/> compares; a path that is added here
/// needs its content compared there too.
/// </summary>
/// <param name="Month">The report month; null is the last that has ended by as_of.</param>
/// <param name="AsOf">The date on which the data are looked at.</param>
/// <param name="Charts">Which charts leave as slides; null draws none at all.</param>
public sealed record RunRequest(Month? Month, DateOnly AsOf, Slides? Charts)
{
    /// <summary>Which pages a browser prints.</summary>
    public PrintedPages Pdf { get; init; }

    /// <summary>
    /// How it meets what stands in its output folder. What is written does not depend on it.
    /// </summary>
    public FolderOptions Folder { get; init; } = new();

    /// <summary>Folders of earlier reports for the same audience, beside those that are known; <c>none</c> for no earlier one.</summary>
    public IReadOnlyList<string> Previous { get; init; } = [];
}

/// <summary>What is printed to PDF.</summary>
public enum PrintedPages
{
    None,
    Report,

    /// <summary>The appendix too.</summary>
    All,
}

/// <summary>How a run ended.</summary>
/// <param name="Code">Done, or Input when more is quarantined than tolerated.</param>
/// <param name="Unchanged">True when nothing had changed since the output was made, so that it was left as it is.</param>
public readonly record struct RunResult(ExitCode Code, bool Unchanged)
{
    /// <summary>Why no figures were written; null where they were.</summary>
    public string? Why { get; init; }
}
