using System.Globalization;
using System.Text.Json.Nodes;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// What was planted in the invented department stands where a reader looks for it, and nothing else does. Every expected figure comes from
/// <c>truth.json</c>, which the invention wrote while it drew, or from the dates of its export. That the late recognition opens the review
/// as a tier 1 case of its month: <see cref="CaseTests"/>.
/// </summary>
public sealed class DemoTruthTests(DemoRun demo) : IClassFixture<DemoRun>
{
    private readonly JsonNode _truth = JsonNode.Parse(File.ReadAllText(Repository.InRoot("synthetic-data", "truth.json")))!;

    private readonly IReadOnlyDictionary<string, string>[] _counts =
        [.. CsvTable.Read(demo["tables", "counts.csv"]).Rows
            .Where(row => row["stratum"] == "all" && row["period"].Length == "2026-03".Length)];

    [Fact]
    public void The_winter_has_its_true_counts_and_so_have_the_other_months()
    {
        var (from, to) = Winter();
        var winter = Sum("spo2_below_90", month => In(month, from, to));
        var others = Sum("spo2_below_90", month => !In(month, from, to));
        Bounds("spo2_below_90.winter", winter);
        Bounds("spo2_below_90.other_months", others);
        Assert.True(Share(winter) > Share(others));

        // The truth: who is missing belongs to the eligible, and how many of them fell is not known.
        void Bounds(string name, (int Met, int Eligible, int Missing) seen)
        {
            var (met, eligible) = Counts("true_whatever_was_recorded", name);
            Assert.Equal(eligible, seen.Eligible + seen.Missing);
            Assert.InRange(met, seen.Met, seen.Met + seen.Missing);
        }
    }

    [Fact]
    public void The_evidence_of_change_climbs_over_the_winter_as_in_no_other_three_months_and_is_not_called_a_signal_below_its_limit()
    {
        var (from, to) = Winter();
        var odds = CsvTable.Read(demo["tables", "monthly_test.csv"]).Rows
            .Where(row => row["measure"] == "spo2_below_90" && row["part"] == "report").ToArray();
        var (first, last) = (Array.FindIndex(odds, row => row["period"] == from), Array.FindIndex(odds, row => row["period"] == to));
        var winter = Climb(first, last);
        Assert.True(winter > 0);
        for (var i = 1; i + last - first < odds.Length; i++)
            if (i + last - first < first || i > last)
                Assert.True(Climb(i, i + last - first) < winter, $"from {odds[i]["period"]}");
        // A change is told where the evidence reaches its limit and nowhere else; here three months of about ten cases are too few, as the
        // sentence says beforehand.
        Assert.All(odds, row => Assert.True(Number(row["log_odds_worse"]) < Number(row["limit_worse"])
            && Number(row["log_odds_better"]) < Number(row["limit_better"]), row["period"]));
        var verdict = Assert.Single(CsvTable.Read(demo["tables", "verdicts.csv"]).Rows, row => row["measure"] == "spo2_below_90");
        Assert.Equal(("no_sign_of_change", ""), (verdict["label"], verdict["changed_about"]));
        Assert.Contains("would be noticed within a year", verdict["sentence"], StringComparison.Ordinal);

        double Climb(int start, int end) => Number(odds[end]["log_odds_worse"]) - Number(odds[start - 1]["log_odds_worse"]);
    }

    [Fact]
    public void The_change_is_drawn_on_its_day_and_its_effect_has_the_planted_direction_and_counts()
    {
        var start = Text("practice_per_mille", "change_month");
        var rows = CsvTable.Read(demo["tables", "changes.csv"]).Rows.Where(row => row["measure"] == "first_pass").ToArray();
        Assert.All(rows, row => Assert.Equal($"{start}-01", row["date"]));
        var (after, before) = (Row("after"), Row("before"));
        foreach (var side in (IReadOnlyDictionary<string, string>[])[before, after])
        {
            var months = _truth["by_month"]!.AsArray()
                .Where(month => In(month!["month"]!.GetValue<string>(), side["period"][..7], side["period"][8..])).ToArray();
            Assert.Equal(12, months.Length);
            Assert.Equal((months.Sum(month => Planted(month!, "met")), months.Sum(month => Planted(month!, "eligible"))),
                (Whole(side["met"]), Whole(side["eligible"])));
        }

        Assert.True(string.CompareOrdinal(before["period"][8..], start) < 0 && after["period"][..7] == start);

        var planted = Per("first_pass_after") - Per("first_pass_before");
        var difference = Row("difference");
        Assert.True(planted > 0 && Number(difference["lower"]) > 0);
        Assert.InRange(planted / 1000.0, Number(difference["lower"]), Number(difference["upper"]));
        var day = DateOnly.ParseExact(start + "-01", "yyyy-MM-dd", CultureInfo.InvariantCulture)
            .ToString("d MMMM yyyy", CultureInfo.InvariantCulture).Replace(' ', '\u00a0');
        Assert.Contains($"Declared change on {day}", File.ReadAllText(demo["charts", "first_pass.svg"]), StringComparison.Ordinal);
        Assert.Equal("as_expected", after["state"]);
        var verdict = Assert.Single(CsvTable.Read(demo["tables", "verdicts.csv"]).Rows, row => row["measure"] == "first_pass");
        Assert.Equal(("better_after_change", difference["value"]), (verdict["label"], verdict["difference"]));
        Assert.EndsWith("Other causes are possible.", verdict["sentence"], StringComparison.Ordinal);

        IReadOnlyDictionary<string, string> Row(string figure) => Assert.Single(rows, row => row["figure"] == figure);
        static int Planted(JsonNode month, string key) => month["first_pass"]![key]!.GetValue<int>();
    }

    // A major adverse event has happened where one of its parts has, whatever else was not recorded: such a record moves no bound, and the
    // estimate without it may lie below what is known.
    [Fact]
    public void A_composite_with_a_known_part_moves_no_bound_and_an_estimate_outside_the_bounds_is_told()
    {
        var year = Assert.Single(CsvTable.Read(demo["tables", "year.csv"]).Rows, row => row["measure"] == "major_adverse_event");
        var (met, eligible, missing) = (Whole(year["met"]), Whole(year["eligible"]), Whole(year["missing"]));
        var decided = Whole(year["missing_decided"]);
        double all = eligible + missing;
        Assert.InRange(decided, 1, missing);
        Assert.Equal((missing - decided) / all, Number(year["missing_upper"]) - Number(year["missing_lower"]), 1e-9);
        Assert.InRange(Number(year["missing_lower"]), met / all, (met + decided) / all);
        Assert.True(Number(year["missing_lower"]) > Number(year["value"]));
        Assert.Contains($"({decided} decided by what is known); the estimate lies below", File.ReadAllText(demo["appendix.html"]),
            StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("first_pass")]
    [InlineData("video_first")]
    public void Before_and_after_the_change_every_count_is_the_true_one(string measure)
    {
        var start = Text("practice_per_mille", "change_month");
        var (before, after) = (Sum(measure, month => string.CompareOrdinal(month, start) < 0),
            Sum(measure, month => string.CompareOrdinal(month, start) >= 0));
        // Both are asked of records whose first airway was an intubation attempt; the truth counts that population with first pass.
        Assert.Equal((True(measure + ".before").Met, True("first_pass.before").Eligible), (before.Met, before.Eligible));
        Assert.Equal((True(measure + ".after").Met, True("first_pass.after").Eligible), (after.Met, after.Eligible));

        (int Met, int Eligible) True(string name) => Counts("counts", name);
    }

    [Theory]
    [InlineData("delayed_oesophageal", "oesophageal_delayed")]
    [InlineData("front_of_neck", "front_of_neck")]
    public void A_planted_event_stands_in_its_month_alone_and_among_the_rare_events(string planted, string measure)
    {
        var month = MonthOf(_truth["planted"]![planted]![0]!.GetValue<string>());
        var met = Assert.Single(_counts, row => row["measure"] == measure && row["met"] != "0");
        Assert.Equal((month, "1"), (met["period"], met["met"]));
        var rare = CsvTable.Read(demo["tables", "rare_events.csv"]).Rows.Where(row => row["measure"] == measure).ToArray();
        Assert.Equal("1", rare.Single(row => row["part"] == "total")["events"]);
        Assert.Equal(month, rare.Single(row => row["part"] == "first")["period"]);
    }

    [Fact]
    public void Desaturation_rises_with_attempts_as_it_was_drawn_to_and_hours_to_which_nothing_was_planted_show_hardly_anything()
    {
        // Each failed attempt adds to the chance of a fall (Practice.Desaturation); no draw knows the hour.
        var rows = CsvTable.Read(demo["tables", "comparisons.csv"]).Rows.ToArray();
        var trend = Assert.Single(rows, row => row["part"] == "trend" && row["stratum"] == "attempts_band");
        Assert.True(Number(trend["value"]) > 0 && Number(trend["p_value"]) < 0.05);
        var hours = rows.Where(row => row["section"] == "hours" && row["part"] == "difference").ToArray();
        Assert.True(hours.Length >= 5);
        Assert.True(hours.Count(row => Number(row["lower"]) > 0 || Number(row["upper"]) < 0) <= 1);
    }

    [Fact]
    public void Preparation_is_better_where_trouble_was_foreseen_as_it_was_drawn_to_and_what_knows_nothing_of_it_shows_no_difference()
    {
        var differences = CsvTable.Read(demo["tables", "comparisons.csv"]).Rows
            .Where(row => row["section"] == "readiness" && row["part"] == "difference").ToDictionary(row => row["measure"]);
        var planted = (Per("senior_present_foreseen") - Per("senior_present_otherwise")) / 1000.0;
        Assert.True(planted > 0 && Number(differences["senior_present"]["lower"]) > 0);
        Assert.InRange(planted, Number(differences["senior_present"]["lower"]), Number(differences["senior_present"]["upper"]));
        Assert.True(Per("vasopressor_ready_foreseen") > Per("vasopressor_ready_otherwise")
            && Number(differences["vasopressor_at_hand"]["lower"]) > 0);
        Assert.InRange(0, Number(differences["front_of_neck_set_ready"]["lower"]), Number(differences["front_of_neck_set_ready"]["upper"]));
        Assert.InRange(0, Number(differences["membrane_identified"]["lower"]), Number(differences["membrane_identified"]["upper"]));

        // Counted in the export itself, in its own words: the last row of a key stands.
        var shocked = Last12().Where(row => row["Arrest before induction"] == "N"
            && int.TryParse(row["Systolic before"], CultureInfo.InvariantCulture, out var pressure) && pressure < 100).ToArray();
        var counted = CsvTable.Read(demo["tables", "strata.csv"]).Rows.Single(row => row["section"] == "readiness"
            && row["measure"] == "senior_present" && row["stratum"] == "shocked_before" && row["level"] == "yes");
        Assert.Equal((shocked.Count(row => row["Senior present"] == "Y"), shocked.Length),
            (Whole(counted["met"]), Whole(counted["eligible"])));
    }

    [Fact]
    public void Precautions_take_time_and_keep_people_out_as_in_the_export_and_months_without_the_question_count_nobody()
    {
        var since = Text("practice_per_mille", "airborne_sequence_since");
        Assert.All(_counts.Where(row => row["measure"] == "circuit_in_order" && string.CompareOrdinal(row["period"], since) < 0),
            row => Assert.Equal("0", row["eligible"]));
        var infectious = Last12().Where(row => row["Infection"] is "Suspected" or "Confirmed").ToArray();
        Assert.Equal(infectious.Length, Sum("circuit_in_order", month => string.CompareOrdinal(month, since) >= 0).Eligible);
        var medians = CsvTable.Read(demo["tables", "quantities.csv"]).Rows
            .Where(row => row["stratum"] == "infection_suspected" && row["quantile"] == "0.5").ToArray();
        foreach (var (measure, heading, sign) in new[]
        {
            ("staff_in_room", "Staff in room", 1), ("decision_to_induction", "Decision (s)", -1)
        })
            Assert.Equal(Median(infectious, heading, sign),
                Number(medians.Single(row => row["measure"] == measure && row["level"] == "yes")["value"]), 1e-9);
        Assert.True(Value("decision_to_induction", "yes") > Value("decision_to_induction", "no")
            && Value("staff_in_room", "yes") < Value("staff_in_room", "no"));

        double Value(string measure, string level) =>
            Number(medians.Single(row => row["measure"] == measure && row["level"] == level)["value"]);
        static double Median(IEnumerable<IReadOnlyDictionary<string, string>> rows, string heading, int sign)
        {
            int[] sorted = [.. rows.Where(row => int.TryParse(row[heading], CultureInfo.InvariantCulture, out _))
                .Select(row => sign * Whole(row[heading])).Order()];
            return (sorted[(sorted.Length - 1) / 2] + sorted[sorted.Length / 2]) / 2.0;
        }
    }

    /// <summary>
    /// Adults in an emergency, April 2025 to March 2026, from the export, each key once and dates that are none left out.
    /// </summary>
    private static IEnumerable<IReadOnlyDictionary<string, string>> Last12() =>
        CsvTable.Read(Repository.InRoot("synthetic-data", "demo.csv")).Rows.GroupBy(row => row["Case ref"]).Select(rows => rows.Last())
            .Where(row => row["Urgency"] != "Planned" && Whole(row["Age (years)"]) >= 16
                && row["Date of procedure"].Split('/') is [_, var month, var year] && In($"{year}-{month}", "2025-04", "2026-03"));

    private (string From, string To) Winter() =>
        Text("practice_per_mille", "winter").Split('/') is [var from, var to] ? (from, to) : throw new FormatException();

    private (int Met, int Eligible, int Missing) Sum(string measure, Func<string, bool> months) =>
        _counts.Where(row => row["measure"] == measure && months(row["period"]))
            .Aggregate((0, 0, 0),
                (sum, row) => (sum.Item1 + Whole(row["met"]), sum.Item2 + Whole(row["eligible"]), sum.Item3 + Whole(row["missing"])));

    private (int, int) Counts(string part, string name) =>
        (_truth[part]![name]!["met"]!.GetValue<int>(), _truth[part]![name]!["eligible"]!.GetValue<int>());

    private string Text(string part, string name) => _truth[part]![name]!.GetValue<string>();

    private int Per(string name) => _truth["practice_per_mille"]![name]!.GetValue<int>();

    /// <summary>The month of a record in the export that the demonstration reads: dates are written day first.</summary>
    private static string MonthOf(string key)
    {
        var rows = CsvTable.Read(Repository.InRoot("synthetic-data", "demo.csv")).Rows;
        var date = rows.Last(row => row["Case ref"] == key)["Date of procedure"].Split('/');
        return $"{date[2]}-{date[1]}";
    }

    private static bool In(string month, string from, string to) =>
        string.CompareOrdinal(month, from) >= 0 && string.CompareOrdinal(month, to) <= 0;

    private static double Share((int Met, int Eligible, int Missing) count) => count.Met / (double)count.Eligible;

    private static int Whole(string text) => int.Parse(text, CultureInfo.InvariantCulture);

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
