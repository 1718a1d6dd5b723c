using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using System.Text.Json.Nodes;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// What was planted in the invented department, where its report shows it, its one verdict, and whether it was found: the table of
/// docs/statistics/verdict.md. What was planted comes from <c>truth.json</c>; all else from the demonstration's own tables.
/// </summary>
public sealed class DemoVerdictTableTests(DemoRun demo) : IClassFixture<DemoRun>
{
    private readonly JsonNode _truth = JsonNode.Parse(File.ReadAllText(Repository.InRoot("synthetic-data", "truth.json")))!;

    private static readonly Dictionary<string, string> Labels = new(StringComparer.Ordinal)
    {
        ["better_after_change"] = "Better after the change",
        ["no_sign_of_change"] = "No sign of change",
        ["too_rare"] = "Too rare to test monthly",
    };

    [Fact]
    public void The_page_shows_the_eight_planted_truths_each_with_its_verdict_and_whether_it_was_found()
    {
        ImmutableArray<Planted> rows = [.. Truths()];
        var table = rows.Aggregate(
            new StringBuilder("| planted | shown in | what it shows | verdict | found |\n| --- | --- | --- | --- | --- |\n"),
            (text, row) => text.Append(CultureInfo.InvariantCulture,
                $"| {row.Truth} | {row.Where} | {row.Shown} | {row.Verdict} | {row.Found} |\n")).ToString();
        var made = Path.Combine(AppContext.BaseDirectory, "demo-verdict-table.md");
        File.WriteAllText(made, table);
        Assert.Equal(["no"], rows.Where(row => row.Found is not ("yes" or Nothing)).Select(row => row.Found));
        // The winter is too short for its cases, as its sentence says beforehand; all else stands where a reader looks for it.
        Assert.Contains("winter", rows.Single(row => row.Found == "no").Truth, StringComparison.Ordinal);
        Assert.Equal((8, 7, 2), (rows.Count(row => row.Found != Nothing), rows.Count(row => row.Found == "yes"),
            rows.Count(row => row.Found == Nothing)));
        Assert.True(File.ReadAllText(Repository.InRoot("docs", "statistics", "verdict.md")).Contains(table, StringComparison.Ordinal),
            $"docs/statistics/verdict.md does not hold the table that the demonstration makes; "
                + $"copy {made} into it and read the difference");
    }

    private const string Nothing = "nothing, rightly";

    private sealed record Planted(string Truth, string Where, string Shown, string Verdict, string Found);

    private IEnumerable<Planted> Truths() => [FirstPass(), Video(), Winter(), Event("delayed_oesophageal", "oesophageal_delayed",
        "One oesophageal intubation recognised late"), Event("front_of_neck", "front_of_neck", "One front-of-neck access"), Attempts(),
        Readiness(), Infection(), Hours(), Neck()];

    private Planted FirstPass()
    {
        var verdict = Verdicts("first_pass")!;
        return new($"First-pass success {Percent("first_pass_before")} before {Change}, {Percent("first_pass_after")} after",
            "`changes.csv`", $"{Points(verdict["difference"])} points ({Points(verdict["difference_lower"])} to "
                + $"{Points(verdict["difference_upper"])})", Verdict("first_pass"), Found(verdict["label"] == "better_after_change"));
    }

    private Planted Video()
    {
        var counts = Table("counts.csv").Where(row => row["measure"] == "video_first" && row["stratum"] == "all"
            && row["period"].Length == 7).ToLookup(row => string.CompareOrdinal(row["period"], Text("change_month")) < 0);
        var (before, after) = (Sum(counts[true]), Sum(counts[false]));
        return new($"Videolaryngoscope first {Percent("video_first_before")} before {Change}, {Percent("video_first_after")} after",
            "`counts.csv`", $"{before} before, {after} after", Verdict("video_first"),
            Found(before == TrueVideo("before") && after == TrueVideo("after")));

        static string Sum(IEnumerable<IReadOnlyDictionary<string, string>> rows) =>
            $"{rows.Sum(row => Whole(row["met"]))}/{rows.Sum(row => Whole(row["eligible"]))}";
    }

    private Planted Winter()
    {
        var months = Text("winter").Split('/');
        var test = Table("monthly_test.csv").Where(row => row["measure"] == "spo2_below_90" && row["part"] == "report").ToArray();
        var most = test.Max(row => Number(row["log_odds_worse"]) - Number(row["limit_worse"]));
        var winter = Table("counts.csv").Where(row => row["measure"] == "spo2_below_90" && row["stratum"] == "all"
            && row["period"].Length == 7 && string.CompareOrdinal(row["period"], months[0]) >= 0
            && string.CompareOrdinal(row["period"], months[1]) <= 0).ToArray();
        return new($"Three months of winter in which the saturation falls in {Percent("desaturation_without_failed_attempt_winter")} "
            + $"instead of {Percent("desaturation_without_failed_attempt_other_months")} where no attempt fails",
            "`monthly_test.csv`", $"{winter.Sum(row => Whole(row["met"]))}/{winter.Sum(row => Whole(row["eligible"]))} in the winter; the "
                + $"evidence climbs, and {(most < 0 ? "stays below" : "reaches")} its limit",
            Verdict("spo2_below_90"), Found(most >= 0));
    }

    private Planted Event(string planted, string measure, string truth)
    {
        var events = Table("counts.csv").Where(row => row["measure"] == measure && row["stratum"] == "all" && row["period"].Length == 7
            && row["met"] != "0").ToArray();
        var month = MonthOf(_truth["planted"]![planted]![0]!.GetValue<string>());
        return new(truth, "`rare_events.csv`", string.Join(", ", events.Select(row => $"{row["met"]} in {row["period"]}")),
            Verdict(measure), Found(events is [var one] && (one["period"], one["met"]) == (month, "1")));
    }

    private Planted Attempts()
    {
        var trend = Table("comparisons.csv").Single(row => row["part"] == "trend" && row["stratum"] == "attempts_band");
        return new("Each failed attempt makes a fall of the saturation likelier", "`comparisons.csv`",
            $"{Points(trend["value"])} points an attempt (Cochran-Armitage, p {(Number(trend["p_value"]) < 0.001 ? "< 0.001"
                : $"= {trend["p_value"]}")})", "That of the measure as a whole, above",
            Found(Number(trend["value"]) > 0 && Number(trend["p_value"]) < 0.05));
    }

    private Planted Readiness()
    {
        var (senior, pressor) = (Difference("readiness", "senior_present"), Difference("readiness", "vasopressor_at_hand"));
        return new($"A senior is present in {Percent("senior_present_foreseen")} where trouble is foreseen, "
            + $"{Percent("senior_present_otherwise")} elsewhere; a vasopressor ready in {Percent("vasopressor_ready_foreseen")} and "
            + $"{Percent("vasopressor_ready_otherwise")}", "`comparisons.csv`", $"{Interval(senior)}; {Interval(pressor)}",
            Verdict("senior_present"), Found(Number(senior["lower"]) > 0 && Number(pressor["lower"]) > 0));
    }

    private Planted Infection()
    {
        double Median(string measure, string level) => Number(Table("quantities.csv").Single(row => row["measure"] == measure
            && row["stratum"] == "infection_suspected" && row["level"] == level && row["quantile"] == "0.5")["value"]);
        string Both(string measure) => string.Create(CultureInfo.InvariantCulture,
            $"{Median(measure, "yes"):0.#} against {Median(measure, "no"):0.#}");
        return new("Infectious cases take longer to induction, with fewer people in the room", "`quantities.csv`",
            $"medians: {Both("decision_to_induction")} s; {Both("staff_in_room")} people", "None: quantities are not tested",
            Found(Median("decision_to_induction", "yes") > Median("decision_to_induction", "no")
                && Median("staff_in_room", "yes") < Median("staff_in_room", "no")));
    }

    private Planted Hours()
    {
        var hours = Table("comparisons.csv").Where(row => row["section"] == "hours" && row["part"] == "difference").ToArray();
        var apart = hours.Count(row => Number(row["lower"]) > 0 || Number(row["upper"]) < 0);
        return new("Nothing hangs on the hour", "`comparisons.csv`", $"{apart} of {hours.Length} differences leave out 0",
            "None: of measures, not of hours", apart == 0 ? Nothing : "something, wrongly");
    }

    private Planted Neck()
    {
        var (set, membrane) = (Difference("readiness", "front_of_neck_set_ready"), Difference("readiness", "membrane_identified"));
        return new("Front-of-neck set and membrane do not hang on trouble foreseen", "`comparisons.csv`",
            $"{Interval(set)}; {Interval(membrane)}", Verdict("front_of_neck_set_ready"),
            Number(set["lower"]) <= 0 && Number(set["upper"]) >= 0 && Number(membrane["lower"]) <= 0 && Number(membrane["upper"]) >= 0
                ? Nothing : "something, wrongly");
    }

    private IReadOnlyDictionary<string, string> Difference(string section, string measure) => Table("comparisons.csv")
        .Single(row => row["section"] == section && row["measure"] == measure && row["part"] == "difference");

    private static string Interval(IReadOnlyDictionary<string, string> row) =>
        $"{Points(row["value"])} points ({Points(row["lower"])} to {Points(row["upper"])})";

    private IReadOnlyDictionary<string, string>? Verdicts(string measure) =>
        Table("verdicts.csv").SingleOrDefault(row => row["measure"] == measure);

    // What is neither a headline measure nor rare, and in no declared change, has no row: nothing is asked of it.
    private string Verdict(string measure) => Verdicts(measure) is not { } row ? "Not tested"
        : row["sentence"].StartsWith(Labels[row["label"]], StringComparison.Ordinal) ? row["sentence"]
        : $"{Labels[row["label"]]}. {row["sentence"]}";

    private IEnumerable<IReadOnlyDictionary<string, string>> Table(string name) => CsvTable.Read(demo["tables", name]).Rows;

    private string Text(string name) => _truth["practice_per_mille"]![name]!.GetValue<string>();

    private string Change => DateOnly.ParseExact(Text("change_month") + "-01", "yyyy-MM-dd", CultureInfo.InvariantCulture)
        .ToString("MMMM yyyy", CultureInfo.InvariantCulture);

    private string Percent(string name) => string.Create(CultureInfo.InvariantCulture,
        $"{_truth["practice_per_mille"]![name]!.GetValue<int>() / 10.0:0.#} %");

    // Asked of records whose first airway was an intubation attempt: the truth counts that population with first pass.
    private string TrueVideo(string side) =>
        $"{_truth["counts"]!["video_first." + side]!["met"]}/{_truth["counts"]!["first_pass." + side]!["eligible"]}";

    private static string MonthOf(string key)
    {
        var date = CsvTable.Read(Repository.InRoot("synthetic-data", "demo.csv")).Rows
            .Last(row => row["Case ref"] == key)["Date of procedure"].Split('/');
        return $"{date[2]}-{date[1]}";
    }

    private static string Points(string fraction) =>
        (100 * Number(fraction)).ToString("+0.0;−0.0;0.0", CultureInfo.InvariantCulture);

    private static string Found(bool found) => found ? "yes" : "no";

    private static int Whole(string text) => int.Parse(text, CultureInfo.InvariantCulture);

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
