using System.Globalization;
using System.Text;
using System.Text.Json.Nodes;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>Children have a section of their own and are in no adult figure; who is counted is said in one line and adds up.</summary>
public sealed class ChildrenTests : IDisposable
{
    private const string Pipeline = """
        name: mixed
        as_of: 2025-12-31
        sources:
          procedures: {file: rows.csv, mapping: mapping.yaml}
        headline: [first_pass, spo2_below_90]

        """;

    private const string Mapping = """
        columns:
          record_id: {column: id}
          event_date: {column: day, date: yyyy-MM-dd}
          urgency: {column: urgency}
          age_years: {column: age}
          neonate: {column: newborn}
          weight_kg: {column: weight}
          rocuronium_mg: {column: rocuronium}
          attempts_total: {column: attempts}
          final_plan: {column: plan}
          first_pass_success: {column: first}
          spo2_pre: {column: start}
          spo2_min: {column: low}
        constants: {cardiac_arrest_before: "no"}
        attempts: {wide: "a{n}_*"}

        """;

    private const string Headings =
        "id,day,urgency,age,newborn,weight,rocuronium,attempts,plan,first,start,low,a1_technique,a1_outcome,a1_tube_size_mm\n";

    private readonly Workspace _workspace = new();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task Children_have_figures_of_their_own_by_age_and_leave_those_of_adults_as_they_are()
    {
        await Run("adults", Adults());
        await Run("both", Adults() + Children());
        // Measures that ask every record, whoever it is, say how complete the data are.
        string[] ofAll = ["record_complete", "entered_within_72_h"];
        Assert.Equal(Counts("adults").Where(row => !ofAll.Any(row.StartsWith)),
            Counts("both").Where(row => !ofAll.Any(row.StartsWith) && !row.StartsWith("child_", StringComparison.Ordinal)));

        var strata = CsvTable.Read(_workspace["both"], "tables", "strata.csv").Rows.Where(row => row["section"] == "children").ToArray();
        // Six of each age; the first attempt failed in one of three, and one of two fell below 90 %.
        foreach (var age in (string[])["neonate", "under_1", "1_to_4", "5_to_11", "12_to_15"])
        {
            Assert.Equal(("4", "6"), Level("first_pass", age));
            Assert.Equal(("3", "6"), Level("spo2_below_90", age));
            // The third dose of each age is ten times the others.
            Assert.Equal(("5", "6"), Level("child_doses_usual", age));
        }

        // Asked where the first attempt succeeded, from one year: a tube of 5.0 mm at 4, 7 and 13 years, where 4.0 to 5.5, 4.75 to 6.25 and
        // 6.25 to 7.75 mm are near the formulas (age / 4 + 3.5 and + 4, common practice). Four of each age are too few to stand alone.
        Assert.Equal(("8", "12"), Level("child_tube_size", "(other)"));
        var page = _workspace.Read("both", "appendix.html");
        Assert.Contains("<h2 id=\"children\">Children</h2>", page, StringComparison.Ordinal);
        Assert.DoesNotContain("id=\"children\"", _workspace.Read("adults", "appendix.html"), StringComparison.Ordinal);
        Assert.DoesNotContain("m-child_", page, StringComparison.Ordinal);
        Assert.Contains("<code>child_doses_usual</code>", page, StringComparison.Ordinal);

        (string Met, string Eligible) Level(string measure, string level)
        {
            var row = Assert.Single(strata, row => row["measure"] == measure && row["level"] == level);
            return (row["met"], row["eligible"]);
        }
    }

    [Fact]
    public async Task So_few_children_that_a_figure_would_point_at_one_are_told_of_without_figures()
    {
        await Run("few", Adults() + string.Concat(Children().Split('\n')[..4].Select(line => line + "\n")));
        var page = _workspace.Read("few", "appendix.html");
        var section = page[page.IndexOf("<h2 id=\"children\">", StringComparison.Ordinal)..];
        section = section[..section.IndexOf("</section>", StringComparison.Ordinal)];
        Assert.Contains("fewer than 5", section, StringComparison.Ordinal);
        Assert.DoesNotContain("<table", section, StringComparison.Ordinal);
        Assert.DoesNotContain("<svg", section, StringComparison.Ordinal);
        // The department's own table keeps the counts as a whole, as counts.csv does, and no level.
        var rows = CsvTable.Read(_workspace["few"], "tables", "strata.csv").Rows.Where(row => row["section"] == "children").ToArray();
        Assert.NotEmpty(rows);
        Assert.All(rows, row => Assert.Equal("all", row["level"]));
    }

    [Fact]
    public async Task Who_is_counted_stands_on_page_one_in_the_table_and_in_the_manifest_and_adds_up()
    {
        await Run("out", Adults() + Children() + "p1,2025-06-01,planned,50,no,80,80,1,A,yes,98,97,,,\n"
            + "p2,2025-06-02,planned,9,no,30,30,1,A,yes,98,97,,,\nn1,2025-06-03,emergency,60,no,80,,0,died,,98,97,,,\n"
            + "u1,2025-06-04,,60,no,80,,1,A,yes,98,97,,,\n");
        const string Line = "58&#160;recorded: 2&#160;planned, 30&#160;children and 1&#160;without an airway attempt not counted; "
            + "1&#160;not known to belong, and missing; 24&#160;analysed.";
        var page = _workspace.Read("out", "appendix.html").Replace("\u00a0", "&#160;", StringComparison.Ordinal);
        var report = _workspace.Read("out", "report.html").Replace("\u00a0", "&#160;", StringComparison.Ordinal);
        var first = report[report.IndexOf("id=\"short\"", StringComparison.Ordinal)..];
        first = first[..first.IndexOf("</section>", StringComparison.Ordinal)];
        Assert.Contains(Line, first, StringComparison.Ordinal);
        Assert.Contains("Denominator: 24&#160;analysed + 1&#160;not known to belong − 1&#160;missing = 24.", page,
            StringComparison.Ordinal);

        var flow = CsvTable.Read(_workspace["out"], "tables", "flow.csv").Rows.ToArray();
        Assert.All(flow, row => Assert.Equal(Whole(row["recorded"]), row.Where(cell => cell.Key is not ("period" or "recorded"))
            .Sum(cell => Whole(cell.Value))));
        var year = Assert.Single(flow, row => row["period"] == "2025-01/2025-12");
        Assert.Equal(["58", "2", "30", "1", "1", "24"], year.Values.Skip(1));
        Assert.Equal(58, flow.Where(row => row["period"].Length == 7).Sum(row => Whole(row["recorded"])));
        var stated = JsonNode.Parse(_workspace.Read("out", "run.json"))!["flow"]!;
        Assert.Equal(("2025-01/2025-12", 58, 30, 24), (stated["period"]!.GetValue<string>(), stated["recorded"]!.GetValue<int>(),
            stated["under_16"]!.GetValue<int>(), stated["analysed"]!.GetValue<int>()));
    }

    private IEnumerable<string> Counts(string run) => CsvTable.Read(_workspace[run], "tables", "counts.csv").Rows
        .Select(row => string.Join(',', row.Values));

    private async Task Run(string folder, string rows)
    {
        _workspace.Write("pipeline.yaml", Pipeline);
        _workspace.Write("mapping.yaml", Mapping);
        _workspace.Write("rows.csv", Headings + rows);
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--charts", "none", "--out", folder);
        Assert.True(result.Exit == 0, result.ToString());
    }

    // Two a month for a year.
    private static string Adults() => Text(24, i => string.Create(CultureInfo.InvariantCulture,
        $"a{i},2025-{1 + (i / 2):00}-{3 + i:00},emergency,{30 + i},no,80,80,1,A,{(i % 4 == 0 ? "no" : "yes")},98,{88 + (i % 6)},,,\n"));

    private static string Children()
    {
        (int Age, int Weight)[] ages = [(0, 4), (0, 8), (4, 16), (7, 24), (13, 45)];
        return Text(30, i => string.Create(CultureInfo.InvariantCulture,
            $"c{i},2025-{1 + (i % 12):00}-{1 + (i / 2):00},urgent,{ages[i / 6].Age},{(i < 6 ? "yes" : "no")},{ages[i / 6].Weight},"
            + $"{ages[i / 6].Weight * (i % 6 == 2 ? 10 : 1)},1,A,,97,{(i % 2 == 0 ? 85 : 95)},video,"
            + $"{(i % 3 == 0 ? "no_view" : "success")},5\n"));
    }

    private static string Text(int rows, Func<int, string> row) =>
        Enumerable.Range(0, rows).Aggregate(new StringBuilder(), (text, i) => text.Append(row(i))).ToString();

    private static int Whole(string cell) => int.Parse(cell, CultureInfo.InvariantCulture);
}
