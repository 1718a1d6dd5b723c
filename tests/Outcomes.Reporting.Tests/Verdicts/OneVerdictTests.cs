using System.Collections.Immutable;
using System.Text.RegularExpressions;
using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Reporting;
using Outcomes.Reporting.Drawings;
using Outcomes.Reporting.Tables;
using Outcomes.Statistics;

namespace Outcomes.Tests.Reporting.Verdicts;

/// <summary>
/// Over random departments: every place of one output set says the same of a measure, and no sentence of change stands
/// outside the verdicts.
/// </summary>
public sealed partial class OneVerdictTests
{
    private static readonly Month First = new(2021, 1);

    public static TheoryData<int> Seeds => [.. Enumerable.Range(1, 40)];

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Every_place_quotes_the_one_verdict_and_nothing_else_speaks_of_change(int seed)
    {
        var figures = Analyse.Department(WithRecords(Draw(new Random(seed))));
        var charts = Charts.Draw(figures);
        IHtmlDocument[] pages =
        [
            new HtmlParser().ParseDocument(Outcomes.Reporting.Page.Report.Html(figures, charts)),
            new HtmlParser().ParseDocument(Outcomes.Reporting.Page.Appendix.Html(figures, charts)),
        ];
        var verdicts = figures.Measures.Where(measure => measure.Verdict is not null).ToDictionary(
            measure => measure.Measure.Id, measure => measure.Verdict!);

        foreach (var (id, verdict) in verdicts)
        {
            var (label, sentence) = (VerdictWording.Label(verdict), Plain(VerdictWording.Sentence(verdict)));
            // Tables of the first page, the summary and the verdicts.
            foreach (var cell in pages.SelectMany(page => page.QuerySelectorAll($"th:has(a[href$='#m-{id}'])"))
                .Select(head => head.ParentElement!).Where(row => Heads(row).Contains("Verdict"))
                .Select(row => Plain(Cell(row, "Verdict")).TrimStart('◆', ' ')))
                Assert.Equal(verdict.Label == VerdictLabel.NotTested && cell.Length == 0 ? "" : label, cell);
            // Caption, slide and the words for listeners.
            var chart = charts.SingleOrDefault(each => each.Id == id);
            if (chart is not null && verdict.Reason != VerdictReason.NotAsked)
            {
                Assert.Contains(label, Plain(chart.Svg), StringComparison.Ordinal);
                Assert.Contains(label, Plain(chart.Slide), StringComparison.Ordinal);
                var captions = pages.SelectMany(page => page.QuerySelectorAll(
                    $"article:has(#m-{id}), article:has(#c-{id})")).ToArray();
                Assert.Equal(figures.Measures.Single(measure => measure.Measure.Id == id).Headline ? 2 : 1, captions.Length);
                Assert.All(captions, caption => Assert.Contains(sentence, Plain(caption.TextContent), StringComparison.Ordinal));
            }
        }

        // The table: one row a measure that something is asked of, with that label and sentence.
        var rows = Rows(figures);
        Assert.Equal(verdicts.Where(pair => pair.Value.Reason != VerdictReason.NotAsked).Select(pair => pair.Key),
            rows.Select(row => row.Id));
        Assert.All(rows, row => Assert.Contains(Plain(VerdictWording.Sentence(verdicts[row.Id])).Replace("\"", "\"\"",
            StringComparison.Ordinal), row.Line, StringComparison.Ordinal));

        // Methods and cautions tell how the report is made, whatever it says.
        foreach (var general in pages.SelectMany(page => page.QuerySelectorAll(
            "section[aria-labelledby=methods], section[aria-labelledby=cautions], section[aria-labelledby=data]")))
            general.Remove();
        // Take away what the verdicts say and what is declared; what is left must not speak of change.
        var said = verdicts.Values.SelectMany(verdict => new[]
        {
            VerdictWording.Full(verdict, figures.Titles), VerdictWording.Sentence(verdict), VerdictWording.Label(verdict)
        }).Where(text => text.Length > 0).Select(Plain).OrderByDescending(text => text.Length).ToArray();
        foreach (var text in charts.SelectMany(chart => new[] { chart.Svg, chart.Slide }).Select(Words)
            .Concat(pages.Select(page => Plain(page.Body!.TextContent))))
        {
            var rest = said.Aggregate(text, (left, part) => left.Replace(part, "", StringComparison.Ordinal));
            Assert.False(OfChange().IsMatch(rest), $"{OfChange().Match(rest).Value} in: "
                + $"{rest[Math.Max(0, OfChange().Match(rest).Index - 120)..Math.Min(rest.Length, OfChange().Match(rest).Index + 80)]}");
        }
    }

    // Without them the checks above would have little to find.
    [Fact]
    public void The_random_departments_reach_every_label()
    {
        var labels = Seeds.SelectMany(seed => Analyse.Department(Draw(new Random(seed))).Measures).Select(measure => measure.Verdict?.Label)
            .OfType<VerdictLabel>().Distinct();
        Assert.Empty(Enum.GetValues<VerdictLabel>().Except(labels));
    }

    // Words that would make a verdict of their own.
    [GeneratedRegex("improved|got (better|worse)|has (changed|improved|fallen|risen|probably)|looks? (better|worse|higher|lower)|deteriorat"
        + "|signal of change|change signal|no signal|signals? a change|[Mm]ore often than in|[Ll]ess often than in|outside the limits:"
        + "|by more than chance|[Nn]o sign of change:")]
    private static partial Regex OfChange();

    private static (string Id, string Line)[] Rows(Figures figures)
    {
        var file = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName());
        VerdictsTable.Write(_ => file, figures);
        var lines = File.ReadAllLines(file);
        File.Delete(file);
        return [.. lines.Skip(1).Select(line => (line.Split(',')[0], line))];
    }

    private static string[] Heads(IElement row) =>
        [.. row.Closest("table")!.QuerySelectorAll("thead th").Select(head => head.TextContent)];

    private static string Cell(IElement row, string head) => row.Children[Array.IndexOf(Heads(row), head)].TextContent;

    private static string Words(string svg) => Plain(string.Join(' ', new HtmlParser().ParseDocument(svg)
        .QuerySelectorAll("text, title, desc").Select(text => text.TextContent)));

    private static string Plain(string text) => text.Replace(Wording.Space, " ", StringComparison.Ordinal);

    // Eight measures of all kinds and directions: stable, stepping, drifting, rare, sparse; declared changes, capture, phases.
    private static DepartmentCounts Draw(Random random)
    {
        var months = random.Next(8, 60);
        ImmutableArray<Measure> measures =
        [
            .. Enumerable.Range(0, 8).Select(i => Samples.Definition($"m{i}", $"Measure {i}",
                (Direction)random.Next(Enum.GetValues<Direction>().Length))),
        ];
        var rows = measures.SelectMany(measure => Series(random, months).Select((count, month) =>
            new CountRow(measure.Id, First.AddMonths(month), CountRow.All, CountRow.All, count)).Where(row => !row.Count.IsEmpty))
            .ToArray();
        var last = First.AddMonths(months - 1);
        return new()
        {
            Plan = new()
            {
                Name = "harbour",
                Definitions = new(FieldDictionary.Shipped, measures, [], [], ""),
                Month = last,
                AsOf = random.Next(4) == 0 ? last.FirstDay.AddDays(10) : last.LastDay,
                Headline = [.. measures.Take(random.Next(0, 7)).Select(measure => measure.Id)],
                Baseline = random.Next(3) == 0 ? null : (First, random.Next(12, 25)),
                WholeBaseline = random.Next(12) == 0,
                Changes = [.. Enumerable.Range(0, random.Next(0, 4)).Select(_ => Change(random, months, measures))
                    .OrderBy(change => change.Date)],
            },
            Records = Enumerable.Range(0, months).ToDictionary(month => First.AddMonths(month), _ => 30L),
            Counts = new([.. rows], [], [], []),
            Capture = random.Next(2) == 0 ? null : Captured(months, fell: random.Next(2) == 0),
        };
    }

    // The single records behind rare events, in the order of their months.
    private static DepartmentCounts WithRecords(DepartmentCounts department) => department with
    {
        EventDesigns = department.Plan.Definitions.Measures.Where(measure => RareEventSeries.IsTold(department, measure))
            .ToImmutableDictionary(measure => measure.Id, measure =>
            {
                var records = department.Counts.Rows.Where(row => row.Measure == measure.Id)
                    .SelectMany(row => Enumerable.Range(0, (int)row.Count.Eligible).Select(i => (row.Month, Met: i < row.Count.Met)))
                    .ToArray();
                return new Design([.. records.Select(record => record.Month)], [.. records.Select(record => record.Met)], [], [])
                {
                    Rows = [.. records.Select((_, i) => (0, i))],
                };
            }),
    };

    private static CaptureFigures Captured(int months, bool fell) => new("counts.csv", null, [.. First.To(First.AddMonths(months - 1))
        .Select((month, i) => new CaptureRatio(month, month, "", fell && i >= months / 2 ? 5 : 10, 10, 1, "tubes issued"))], []);

    // Half of the changes and of the steps lie where an evaluation is fresh in the last months.
    private static int Place(Random random, int months) => random.Next(2) == 0 ? random.Next(1, months) : Math.Max(1, months - 14);

    private static DeclaredChange Change(Random random, int months, ImmutableArray<Measure> measures) => new(
        First.AddMonths(Place(random, months)).FirstDay.AddDays(random.Next(0, 20)), "Invented",
        [.. measures.Where(_ => random.Next(3) == 0).Select(measure => measure.Id).DefaultIfEmpty("m0")],
        (Direction)random.Next(3), random.Next(5) == 0, "Invented.")
    { Plan = new(random.Next(6, 13), null) };

    private static IEnumerable<Count> Series(Random random, int months)
    {
        var (volume, rate, step, at) = (random.Next(1, 50), random.NextDouble() < 0.2 ? 0.02 : random.NextDouble(),
            random.NextDouble() < 0.5 ? 0 : random.NextDouble() - 0.5, Place(random, months));
        for (var month = 0; month < months; month++)
        {
            var eligible = random.Next(20) == 0 ? 0 : random.Next(volume / 2, volume + 1);
            var now = Math.Clamp(rate + (month >= at ? step : 0), 0, 1);
            yield return new(Enumerable.Range(0, eligible).Count(_ => random.NextDouble() < now), eligible, random.Next(3));
        }
    }
}
