using System.Globalization;
using System.Text;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// Desaturation, hours and infection have sections of their own: 150 invented records whose counts are those of a published example.
/// </summary>
public sealed class StratifiedSectionTests(SharedRuns runs) : IDisposable
{
    private const string Columns = "id,day,hours,place,urgency,age,arrest,pre,low,attempts,by,infection,filter,cuff\n";

    private const string Mapping = """
        columns:
          record_id: {column: id}
          event_date: {column: day, date: yyyy-MM-dd}
          hour_band: {column: hours}
          location_type: {column: place}
          urgency: {column: urgency}
          age_years: {column: age}
          cardiac_arrest_before: {column: arrest}
          spo2_pre: {column: pre}
          spo2_min: {column: low}
          attempts_total: {column: attempts}
          preox_method: {column: by}
          infection_status: {column: infection}
          filter_on_device_before_ventilation: {column: filter}
          cuff_up_before_ventilation: {column: cuff}

        """;

    private const string Pipeline = """
        name: sections
        as_of: 2025-01-31
        sources:
          procedures: {file: rows.csv, mapping: mapping.yaml}
        measures: [shipped]
        strata: []
        headline: [spo2_below_90]
        baseline: {from: 2024-02, months: 12}

        """;

    private readonly Workspace _own = new();

    private Workspace? _made;

    // What was run last in this test: the run that some of them share, or one of its own.
    private Workspace Made => _made ?? throw new InvalidOperationException("Nothing has been run.");

    public void Dispose() => _own.Dispose();

    [Fact]
    public async Task A_difference_of_hours_has_the_published_interval_and_the_odds_ratio_within_places_is_that_of_hand()
    {
        await RunAsItStands();
        var rows = Comparisons("hours");
        // 56/70 against 48/80: 0.2000, 0.0524 to 0.3339, Newcombe RG. Stat Med 1998;17:873-890, table II, example (a), method
        // 10 (from memory).
        var difference = Assert.Single(rows, row => row["part"] == "difference");
        Assert.Equal(("spo2_below_90", "out_of_hours", "newcombe"), (difference["measure"], difference["stratum"], difference["method"]));
        Assert.Equal(0.2, Number(difference["value"]), 1e-10);
        Assert.Equal(0.0524, Number(difference["lower"]), 5e-5);
        Assert.Equal(0.3339, Number(difference["upper"]), 5e-5);
        // Mantel and Haenszel's ratio by hand: intensive care 36 of 40 against 24 of 30, emergency department 20 of 30 against 24 of 50.
        var pooled = Assert.Single(rows, row => row["part"] == "odds_ratio");
        Assert.Equal(("location_type", "2"), (pooled["within"], pooled["levels"]));
        Assert.Equal(((36 * 6 / 70.0) + (20 * 26 / 80.0)) / ((4 * 24 / 70.0) + (10 * 24 / 80.0)), Number(pooled["value"]), 1e-9);
        Assert.Equal("1", Assert.Single(rows, row => row["part"] == "homogeneity")["degrees"]);
        var page = Made.Read("out", "appendix.html");
        Assert.Contains("Out of hours: more often. Chance is an unlikely explanation.", page, StringComparison.Ordinal);
        Assert.Contains("These figures do not show why results differ", page, StringComparison.Ordinal);
        Assert.Contains("tables/comparisons.csv", Made.Read("out", "datapackage.json"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Levels_with_few_records_are_merged_on_the_page_and_in_the_table_and_records_that_do_not_say_stay_apart()
    {
        await RunAsItStands();
        var levels = CsvTable.Read(Made["out"], "tables", "strata.csv").Rows.Where(row => row["section"] == "desaturation"
            && row["measure"] == "spo2_below_90" && row["stratum"] == "preoxygenated_by").ToArray();
        Assert.Equal([("niv_or_cpap", "137"), ("(missing)", "10"), ("(other)", "3")],
            levels.Select(row => (row["level"], row["eligible"])));
        Assert.Equal("", levels[2]["value"]);
        // 150 records, one attempt for 100, two for 40, three for 10: every one of them is judged.
        var attempts = CsvTable.Read(Made["out"], "tables", "strata.csv").Rows
            .Where(row => row["stratum"] == "attempts_band" && row["measure"] == "spo2_below_90").ToArray();
        Assert.Equal([("1", "100"), ("2", "40"), ("3_or_more", "10")], attempts.Select(row => (row["level"], row["eligible"])));
        Assert.Equal(104, attempts.Sum(row => int.Parse(row["met"], CultureInfo.InvariantCulture)));
        var section = Section("desaturation");
        Assert.Contains("One other level, with few records", section, StringComparison.Ordinal);
        Assert.Contains("Cochran-Armitage", section, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Each_airborne_precaution_stands_with_its_own_count_and_with_the_reading_of_those_that_say()
    {
        await RunAsItStands();
        var section = Section("precautions");
        // Twenty infectious cases: the filter was on in 15, not in 3, and 2 do not say.
        Assert.Matches("Filter on before the first breath</th><td class=\"n\">[0-9/]+</td><td class=\"n\">15/20</td>.*?<td>15/18, ",
            section);
        Assert.Matches("Cuff up before the first breath</th><td class=\"n\">[0-9/]+</td><td class=\"n\">20/20</td>", section);
        Assert.Contains("Airborne-precaution bundle complete (no source collects ", section, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Sections_that_cannot_be_answered_are_named_in_one_line_with_what_is_not_collected()
    {
        await Run(Mapping.Replace("  infection_status: {column: infection}\n", "", StringComparison.Ordinal), i => true);
        var page = Made.Read("out", "appendix.html");
        Assert.DoesNotContain("id=\"infection\"", page, StringComparison.Ordinal);
        Assert.DoesNotContain("href=\"#infection\"", page, StringComparison.Ordinal);
        Assert.Contains("Sections without figures: Infectious cases (Infection suspected or confirmed not collected); "
            + "Airborne precautions.", Section("quality"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Nothing_is_split_over_less_than_twelve_months()
    {
        await Run(Mapping, i => i % 12 != 0, Pipeline.Replace("from: 2024-02", "from: 2024-03", StringComparison.Ordinal));
        Assert.False(File.Exists(Made["out", "tables", "strata.csv"]));
        Assert.DoesNotContain("id=\"desaturation\"", Made.Read("out", "appendix.html"), StringComparison.Ordinal);
    }

    private async Task RunAsItStands() =>
        _made = (await runs.Get("sections", () => Write(new Workspace(), Mapping, _ => true, Pipeline), "run", "pipeline.yaml", "--charts",
            "none", "--out", "out")).Workspace;

    private async Task Run(string mapping, Func<int, bool> kept, string pipeline = Pipeline)
    {
        _made = Write(_own, mapping, kept, pipeline);
        var result = await ToolProcess.Run(_own.Folder, "run", "pipeline.yaml", "--charts", "none", "--out", "out");
        Assert.True(result.Exit == 0, result.ToString());
    }

    private static Workspace Write(Workspace workspace, string mapping, Func<int, bool> kept, string pipeline)
    {
        var text = new StringBuilder(Columns);
        var at = 0;
        // Night or day, place, records, of which fell below 90 %.
        foreach (var (hours, place, records, fell) in new[]
        {
            ("22-08", "icu", 40, 36), ("22-08", "ed", 30, 20), ("08-18", "icu", 30, 24), ("08-18", "ed", 50, 24)
        })
            for (var i = 0; i < records; i++, at++)
                if (kept(at))
                    text.Append(string.Create(CultureInfo.InvariantCulture, $"r{at:D3},{Month(at % 12)}-1{at % 10},{hours},"
                        + $"{place},emergency,60,no,97,{(i < fell ? 84 : 95)},{(at % 15 == 0 ? 3 : at % 15 <= 4 ? 2 : 1)},{By(at)},"
                        + $"{(at < 20 ? "confirmed" : "not_suspected")},{Filter(at)},{(at < 20 ? "yes" : "")}\n"));
        workspace.Write("rows.csv", text.ToString());
        workspace.Write("mapping.yaml", mapping);
        workspace.Write("pipeline.yaml", pipeline);
        return workspace;
    }

    private static string Month(int i) => i < 11 ? $"2024-{i + 2:D2}" : "2025-01";

    private static string By(int at) => at < 3 ? "hfno" : at < 13 ? "" : "niv_or_cpap";

    private static string Filter(int at) => at < 15 ? "yes" : at < 18 ? "no" : "";

    private IReadOnlyDictionary<string, string>[] Comparisons(string section) =>
        [.. CsvTable.Read(Made["out"], "tables", "comparisons.csv").Rows
            .Where(row => row["section"] == section && row["measure"] == "spo2_below_90")];

    private string Section(string id)
    {
        var page = Made.Read("out", "appendix.html");
        var start = page.IndexOf($"<section aria-labelledby=\"{id}\">", StringComparison.Ordinal);
        Assert.True(start >= 0, id);
        return page[start..page.IndexOf("</section>", start, StringComparison.Ordinal)];
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
