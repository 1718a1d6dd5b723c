using System.Globalization;
using System.Text;
using System.Text.Json;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// Change signals that follow the case mix: patients who change are no change of care, and hide none. Invented months, 20 cases each; the
/// icu is hard, the ed easy.
/// </summary>
public sealed class MixedSignalTests : IDisposable
{
    private const int History = 12;

    private readonly Workspace _workspace = TinyPipeline.Create();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task Harder_patients_with_the_same_care_are_a_signal_of_the_counts_and_none_given_the_patients()
    {
        // Not met: 35 % in the icu, 5 to 10 % in the ed, throughout. Half of the cases are from the icu, then nine in ten.
        var verdict =
            await Run(11, month => month < History ? new(10, 3 + (month % 2), 10, month % 3 == 0 ? 0 : 1) : new(18, 6 + (month % 2), 2, 0));
        Assert.Equal(("no_sign_of_change", "counts_differ", "yes"), (verdict["label"], verdict["caution"], verdict["adjusted"]));

        var rows = CsvTable.Read(_workspace["out"], "tables", "monthly_test.csv").Rows.Where(each => each["part"] == "report").ToArray();
        Assert.All(rows, each => Assert.True(Number(each["log_odds_worse_given_case_mix"]) < Number(each["limit_worse"]), each["period"]));
        // The model has one coded field, so that it expects each place's rate of the history: 42/120 in the icu and 8/120 in the ed. The
        // level at the end of the history is known to some tenths of a case only.
        Assert.Equal((18 * 42 / 120.0) + (2 * 8 / 120.0), Number(rows[0]["expected"]), 0.2);

        var page = _workspace.Read("out", "appendix.html");
        Assert.Contains("The unadjusted counts would say otherwise: ", page, StringComparison.Ordinal);
        Assert.Contains(verdict["caution_sentence"], page.Replace('\u00a0', ' '), StringComparison.Ordinal);
        Assert.Contains("Adjusted for case mix: tube at the first attempt", page, StringComparison.Ordinal);
        Assert.DoesNotContain("got worse", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Worse_care_that_easier_patients_hide_is_a_signal_given_the_patients_and_none_of_the_counts()
    {
        // Not met: from 35 to 60 % in the icu, from 7 to 15 % in the ed, while four in five cases are from the ed instead of half: 21 %
        // before, 23 % after.
        var verdict = await Run(11, month => month < History
            ? new(10, 3 + (month % 2), 10, month % 3 == 0 ? 0 : 1)
            : new(4, 2 + (month % 5 < 2 ? 1 : 0), 16, 2 + (month % 2)));
        Assert.Equal(("worse", "counts_differ", "yes"), (verdict["label"], verdict["caution"], verdict["adjusted"]));
        Assert.True(string.CompareOrdinal(verdict["changed_from"], "2025-01") <= 0, verdict["changed_from"]);
        Assert.Contains("adjusted for case mix, has probably got worse since", _workspace.Read("out", "appendix.html"),
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task Where_patients_stay_as_they_were_both_say_the_same_and_the_page_does_not_say_it_twice()
    {
        var verdict = await Run(12, month => month < History ? new(10, 3 + (month % 2), 10, month % 3 == 0 ? 0 : 1) : new(10, 6, 10, 3));
        Assert.Equal("worse", verdict["label"]);
        Assert.NotEqual("counts_differ", verdict["caution"]);
        Assert.DoesNotContain("The unadjusted counts", _workspace.Read("out", "appendix.html"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_case_whose_place_was_not_written_down_counts_and_missing_is_no_level()
    {
        // One case in ten, of either place, lacks it, before and after.
        await Run(18, month => month < History ? new(10, 3 + (month % 2), 10, month % 3 == 0 ? 0 : 1) : new(18, 6 + (month % 2), 2, 0),
            blank: (_, i) => i % 10 == 9);
        var rows = CsvTable.Read(_workspace["out"], "tables", "monthly_test.csv").Rows.ToArray();
        Assert.All(rows.Where(row => row["part"] == "report"), row => Assert.Equal("20", row["eligible"]));
        Assert.True(Number(rows[^1]["log_odds_worse_given_case_mix"]) < Number(rows[^1]["limit_worse"]));
        Assert.Equal(["icu"], CsvTable.Read(_workspace["out"], "tables", "casemix.csv").Rows
            .Where(row => row["part"] == "odds_ratio").Select(row => row["level"]));
        // The baseline's expected events are its own, those of the records without a place included: 42 and 8.
        var baseline = CsvTable.Read(_workspace["out"], "tables", "expected.csv").Rows.Take(History).ToArray();
        Assert.Equal(50, baseline.Sum(row => int.Parse(row["observed"], CultureInfo.InvariantCulture)));
        Assert.Equal(50, baseline.Sum(row => Number(row["expected"])), 1e-3);
    }

    [Fact]
    public async Task Once_a_field_is_missing_more_often_the_counts_decide()
    {
        // Worse care from the fourth report on, seen either way; from then on the place is missing in eight of 20 and not in two.
        var verdict = await Run(12, month => month < History + 3 ? new(10, 3 + (month % 2), 10, month % 3 == 0 ? 0 : 1) : new(10, 7, 10, 4),
            blank: (month, i) => month < History + 3 ? i % 10 == 9 : i % 5 >= 3);
        Assert.Equal(("worse", "field_moved", "no"), (verdict["label"], verdict["caution"], verdict["adjusted"]));
        Assert.Contains("was missing in 20 of 100, 10 before: case mix is no longer followed.", verdict["caution_sentence"],
            StringComparison.Ordinal);
        Assert.All(CsvTable.Read(_workspace["out"], "tables", "monthly_test.csv").Rows,
            row => Assert.Equal(("", ""), (row["expected"], row["log_odds_worse_given_case_mix"])));
    }

    [Fact]
    public async Task Without_enough_events_for_a_model_the_counts_decide_and_the_page_says_so()
    {
        // Nine events in the history.
        var verdict = await Run(12, month => month < History ? new(4, month % 4 == 3 ? 0 : 1, 5, 0) : new(8, 5, 1, 1));
        Assert.NotEqual("yes", verdict["adjusted"]);
        Assert.Contains("Not adjusted for case mix: tube at the first attempt. There are too few events",
            _workspace.Read("out", "appendix.html"), StringComparison.Ordinal);
        Assert.All(CsvTable.Read(_workspace["out"], "tables", "monthly_test.csv").Rows,
            row => Assert.Equal(("", ""), (row["expected"], row["log_odds_worse_given_case_mix"])));
    }

    [Fact]
    public async Task A_model_fitted_to_months_that_are_watched_is_not_followed()
    {
        // A phase that starts in the second year has its history before the baseline, which begins in the third.
        _workspace.Write("changes.yaml", """
            - date: 2024-02-01
              what: Another form
              measures: [measure]
              expect: down
              judged_after: 12
              why: It asks for more.
              new_phase: true

            """);
        await Run(24, _ => new(10, 3, 10, 1), "changes: changes.yaml\n", baseline: "2025-09");
        Assert.Contains("Not adjusted for case mix: tube at the first attempt. The model was fitted to months",
            _workspace.Read("out", "appendix.html"), StringComparison.Ordinal);
        Assert.All(CsvTable.Read(_workspace["out"], "tables", "monthly_test.csv").Rows,
            row => Assert.Equal("", row["log_odds_worse_given_case_mix"]));
    }

    [Fact]
    public async Task A_set_for_others_is_the_same_to_the_byte_with_and_without_case_mix()
    {
        static Month Of(int month) => month < History ? new(10, 3 + (month % 2), 10, 1) : new(18, 6 + (month % 2), 2, 1);
        await Run(18, Of, "audience: network\n");
        var with = Files();
        Assert.DoesNotContain(with.Keys, file => file.Contains("monthly_test", StringComparison.Ordinal)
            || file.Contains("expected", StringComparison.Ordinal) || file.Contains("casemix", StringComparison.Ordinal));
        Assert.DoesNotContain("expected for these patients", with["report.html"], StringComparison.Ordinal);
        Assert.DoesNotContain("djusted for case mix:", with["report.html"], StringComparison.Ordinal);
        await Run(18, Of, "audience: network\n", mix: false);
        var without = Files();
        Assert.Equal(without.Keys.Order(StringComparer.Ordinal), with.Keys.Order(StringComparer.Ordinal));
        Assert.All(without.Where(pair => pair.Key != "run.json"), pair => Assert.True(pair.Value == with[pair.Key], pair.Key));

        // The hash of the definitions covers the request for case mix, and says so; nothing else may differ.
        Dictionary<string, string> Files()
        {
            var hash = JsonDocument.Parse(_workspace.Read("out", "run.json")).RootElement.GetProperty("definitions_sha256").GetString()!;
            return Directory.GetFiles(_workspace["out"], "*", SearchOption.AllDirectories).ToDictionary(
                path => Path.GetRelativePath(_workspace["out"], path),
                path => File.ReadAllText(path).Replace(hash, "HASH", StringComparison.Ordinal));
        }
    }

    [Fact]
    public async Task Power_is_that_of_what_decides()
    {
        // The counts alone have signalled; given the patients nothing has, and what would be noticed from here on can be said.
        await Run(18, month => month < History ? new(10, 3 + (month % 2), 10, month % 3 == 0 ? 0 : 1) : new(18, 6 + (month % 2), 2, 0));
        var result = await ToolProcess.Run(_workspace.Folder, "power", "pipeline.yaml", "--json");
        Assert.True(result.Exit == 0, result.ToString());
        var changes = Assert.Single(JsonDocument.Parse(result.Output).RootElement.GetProperty("measures").EnumerateArray().ToArray())
            .GetProperty("changes").EnumerateArray().ToArray();
        Assert.All(changes,
            change => Assert.InRange(change.GetProperty("noticed_within_months").EnumerateArray().First().GetDouble(), 0, 0.5));
    }

    /// <summary>Cases of a month by place, and how many of them did not meet the measure.</summary>
    private readonly record struct Month(int Icu, int IcuNotMet, int Ed, int EdNotMet);

    private async Task<IReadOnlyDictionary<string, string>> Run(
        int reports, Func<int, Month> of, string more = "", bool mix = true, Func<int, int, bool>? blank = null,
        string baseline = "2024-01")
    {
        var rows = new StringBuilder("id,day,place,attempts,first\n");
        for (var month = 0; month < History + reports; month++)
        {
            var (icu, icuNot, ed, edNot) = of(month);
            for (var i = 0; i < icu + ed; i++)
                rows.Append(CultureInfo.InvariantCulture,
                    $"r{month}-{i},{2024 + (month / 12)}-{(month % 12) + 1:00}-{i + 1:00},"
                        + $"{(blank?.Invoke(month, i) == true ? "" : i < icu ? "icu" : "ed")},1,"
                        + $"{(i < icu ? i < icuNot : i - icu < edNot) switch { true => "no", false => "yes" }}\n");
        }
        _workspace.Write("rows.csv", rows.ToString());
        var last = new DateOnly(2024, 1, 1).AddMonths(History + reports).AddDays(-1);
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline
            .Replace("as_of: 2026-02-01", $"as_of: {last:yyyy-MM-dd}", StringComparison.Ordinal)
            .Replace("{from: 2026-01, months: 12}", $"{{from: {baseline}, months: 12}}", StringComparison.Ordinal)
            + "headline: [measure]\n" + (mix ? "case_mix: {measure: [measure], given: [location_type]}\n" : "") + more);
        if (Directory.Exists(_workspace["out"]))
            Directory.Delete(_workspace["out"], recursive: true);
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "out", "--charts", "none");
        Assert.True(result.Exit == 0, result.ToString());
        return more.Contains("network", StringComparison.Ordinal) ? null!
            : Assert.Single(CsvTable.Read(_workspace["out"], "tables", "verdicts.csv").Rows);
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
