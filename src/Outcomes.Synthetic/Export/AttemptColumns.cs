using System.Collections.Immutable;
using static Outcomes.Synthetic.Export.Cells;
using static Outcomes.Synthetic.Export.LocalCodes;

namespace Outcomes.Synthetic.Export;

/// <summary>An attempt with its place: attempts are numbered from 1, rescues in the same sequence.</summary>
internal readonly record struct AttemptRow(string RecordId, int Number, Attempt Attempt);

/// <summary>The export of attempts, column by column.</summary>
internal static class AttemptColumns
{
    /// <summary>As for procedures.</summary>
    public const int First = 18;

    public static readonly ImmutableArray<LocalColumn<AttemptRow>> All =
    [
        new("Case ref", row => row.RecordId),
        new("Attempt", row => Number(row.Number)),
        new("Plan", row => Plan[row.Attempt.Plan]),
        new("Technique", row => Technique[row.Attempt.Technique]),
        new("Device", row => Device[row.Attempt.Device]),
        new("Blade", row => Coded(row.Attempt.BladeShape, Blade)),
        new("Introducer", row => Coded(row.Attempt.Introducer, Introducer), 25),
        new("Grade", row => Grade[row.Attempt.Grade]),
        new("Specialty", row => Specialty[row.Attempt.Specialty]),
        new("Blade insertions", row => Counted(row.Attempt.BladeInsertions), 40),
        new("Tube passes", row => Counted(row.Attempt.TubePasses), 50),
        new("View", row => row.Attempt.View switch { null => NotApplicable, "not_seen" => "Not seen", var view => view }),
        new("Result", row => Outcome[row.Attempt.Outcome]),
        new("Changed", row => row.Attempt.Changes.IsEmpty ? NotApplicable : List(row.Attempt.Changes, Change)),
        new("SpO2 at start", row => Number(row.Attempt.SpO2Start), 80, IsVital: true),
        new("SpO2 lowest", row => Number(row.Attempt.SpO2Min), 80, IsVital: true),
        new("Duration (s)", row => Number(row.Attempt.DurationSeconds), 150),
        new("CO2 after", row => Co2After[row.Attempt.Co2After ?? "not_used"]),
        new("Blade in (s)", row => Number(row.Attempt.StartSeconds), 130),
    ];

    private static string Coded(string? value, IReadOnlyDictionary<string, string> codes) => value is null ? NotApplicable : codes[value];

    private static string Counted(int? value) => value is { } number ? Number(number) : NotApplicable;
}
