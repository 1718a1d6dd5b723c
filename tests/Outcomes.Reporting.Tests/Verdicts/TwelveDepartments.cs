using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Tests.Reporting.Verdicts;

/// <summary>
/// The twelve invented departments of tests/reference/departments.R, one measure each, whose verdicts a second program in R has made as well
/// (tests/reference/verdict.R, written from the description of the method).
/// </summary>
internal static class TwelveDepartments
{
    public static readonly Month First = new(2020, 1);

    private static readonly Measure Event = Samples.Definition("unwelcome_event", "Unwelcome event", Direction.Down);

    // The budget of six measures, five of them without cases.
    private static readonly ImmutableArray<Measure> Measures =
        [Event, .. Enumerable.Range(1, 5).Select(i => Samples.Definition($"other_{i}", $"Other {i}", Direction.Down))];

    /// <summary>Their names, in the order of the file.</summary>
    public static ImmutableArray<string> Names { get; } = [.. Read("expected.csv").Select(row => row["department"])];

    /// <summary>The label of every report by the second program.</summary>
    public static IEnumerable<(Month Month, string Label)> Reference(string department) => Read("reports.csv")
        .Where(row => row["department"] == department).Select(row => (First.AddMonths(Whole(row["month"])), row["label"]));

    /// <summary>The verdict of a department's report.</summary>
    public static Verdict Judge(string department, Month month)
    {
        var rows = Read("departments.csv").Where(row => row["department"] == department)
            .Where(row => First.AddMonths(Whole(row["month"])) <= month).ToArray();
        var counted = Counts(department, month, rows);
        var signals = new ChangeSignals(counted.Plan, counted.Book, [], counted.LastComplete);
        var signal = signals.Of(Event)!;
        if (rows[^1]["field_moved"] == "1")
            signal = signal with { Mix = MixUse.FieldMoved, Moved = new("urgency", month, 32, 100, 16, 200) };
        var figures = new MeasureFigures
        {
            Measure = Event,
            Headline = true,
            Series = counted.Book.Whole(Event.Id),
            Year = counted.Book.Sum(counted.Book.Whole(Event.Id), counted.YearFrom, month),
            Signal = signal,
        };
        return Outcomes.Analysis.Verdicts.Decide(counted, figures, ChangeEvaluations.Evaluate(counted, [figures]), signals.Options);
    }

    private static DepartmentCounts Counts(string department, Month month, IReadOnlyDictionary<string, string>[] rows)
    {
        ImmutableArray<CountRow> counts = [.. rows.Select(row => new CountRow(Event.Id, First.AddMonths(Whole(row["month"])), CountRow.All,
            CountRow.All, new(Whole(row["unwelcome"]), Whole(row["eligible"]), 0)))];
        return new()
        {
            Plan = new()
            {
                Name = "harbour",
                Definitions = new(FieldDictionary.Shipped, Measures, [], [], ""),
                Month = month,
                AsOf = month.LastDay,
                Headline = [.. Measures.Select(measure => measure.Id)],
                Baseline = (First, Whole(rows[0]["history"])),
                Changes = Changes(department),
            },
            Records = counts.ToDictionary(row => row.Month, row => row.Count.Eligible),
            Counts = new(counts, [], [], []),
            // All procedures were recorded, and six in ten where the share fell.
            Capture = new("counts.csv", null, [.. rows.Select(row => (Month: First.AddMonths(Whole(row["month"])),
                Recorded: row["capture_fell"] == "1" ? 6 : 10)).Select(row => new CaptureRatio(row.Month, row.Month, "", row.Recorded, 10, 1,
                    "tubes issued"))], []),
        };
    }

    // A change in the middle of its month, which then belongs to neither side.
    private static ImmutableArray<DeclaredChange> Changes(string department) =>
    [
        .. Read("evaluations.csv").Where(row => row["department"] == department).Select(row => new DeclaredChange(
            First.AddMonths(Whole(row["change"])).FirstDay.AddDays(14), "Invented", [Event.Id],
            row["expected"] switch { "up" => Direction.Up, "down" => Direction.Down, _ => Direction.None }, NewPhase: false, "Invented.")
        {
            Plan = new(Whole(row["judged_after"]), null),
        }),
    ];

    private static IReadOnlyDictionary<string, string>[] Read(string file)
    {
        var lines = File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, "reference", "verdict", file));
        var heads = lines[0].Split(',');
        return [.. lines.Skip(1).Select(line => heads.Zip(line.Split(',')).ToDictionary(cell => cell.First, cell => cell.Second))];
    }

    private static int Whole(string text) => int.Parse(text, CultureInfo.InvariantCulture);
}
