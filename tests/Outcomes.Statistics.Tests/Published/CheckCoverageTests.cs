using System.Text.Json.Nodes;

namespace Outcomes.Tests;

/// <summary>The list of published values that the design names: each value that was confirmed is tested, or it says here why not.</summary>
public class CheckCoverageTests
{
    /// <summary>Tested under another id of tests/fixtures/statistics.</summary>
    private static readonly Dictionary<string, string> Renamed = new()
    {
        ["2.fll.odds_ratio_Miettinen-Nurminen_score.9-13-4-14"] = "2.fll.or_score",
        ["2.fll.odds_ratio_conditional_mid-P.9-13-4-14"] = "2.fll.or_mid_p",
        ["2.power.airway"] = "2.power.airway90",
    };

    /// <summary>Tested by a test of its own, that needs data or a model.</summary>
    private static readonly Dictionary<string, (string File, string Test)> Elsewhere = new()
    {
        ["5.const"] = ("Outcomes.Statistics.Tests/ControlCharts/ChartCheckTests.cs", "The_factors_are_the_closed_forms_rounded"),
        ["6.racusum.s2000"] = ("Outcomes.CaseMix.Tests/RiskAdjustedCusumTests.cs", "Weights_of_the_cardiac_surgery_paper"),
        ["6.bern.gamma"] = ("Outcomes.CaseMix.Tests/RiskAdjustedCusumTests.cs", "One_chance_for_all_is_the_bernoulli_cusum"),
        ["8.lowbwt.5var"] = ("Outcomes.CaseMix.Tests/LogisticTests.cs", "Five_covariates_give_the_coefficients_and_errors_of_table_2_2"),
        ["8.lowbwt.2var"] = ("Outcomes.CaseMix.Tests/LogisticTests.cs", "The_reduced_model_gives_table_2_3"),
        ["8.birthwt.full"] = ("Outcomes.CaseMix.Tests/LogisticTests.cs",
            "The_full_model_agrees_with_R_to_ten_digits_and_its_profile_intervals_to_four"),
        ["8.auc.asah"] = ("Outcomes.CaseMix.Tests/DiscriminationTests.cs", "Areas_of_the_published_markers_have_the_published_intervals"),
        ["8.firth"] = ("Outcomes.CaseMix.Tests/FirthTests.cs",
            "The_endometrial_data_are_quasi_separated_and_give_the_published_coefficients"),
    };

    private static readonly Dictionary<string, string> DoNotApply = new()
    {
        ["4.perla.rules"] = "the wording of rules, without a number; the chance of a run of six is 4.false.perla6",
        ["9.ft.miller"] = "the double arcsine scale, on which nothing here is pooled: the logit is used",
        ["6.bern.arl"] = "the mean run length of a Bernoulli CUSUM at a known rate, which nothing here gives: "
            + "limits are simulated for a horizon",
    };

    [Fact]
    public void Every_confirmed_published_value_is_tested_or_says_why_not()
    {
        var root = Root();
        var list = Path.Combine(root, "..", "shared", "check-values.json");
        Assert.SkipUnless(File.Exists(list), "the list of published values (../shared/check-values.json) is not here");
        string[] confirmed = [.. JsonNode.Parse(File.ReadAllText(list))!["items"]!.AsArray()
            .Where(item => item!["status"]!.GetValue<string>() == "ok").Select(item => item!["id"]!.GetValue<string>())];
        Assert.NotEmpty(confirmed);
        var ids = Ids();
        string[] open = [.. confirmed.Where(id => !ids.Any(tested => tested == id || tested.StartsWith(id + ".", StringComparison.Ordinal))
            && !Renamed.ContainsKey(id) && !Elsewhere.ContainsKey(id) && !DoNotApply.ContainsKey(id))];
        Assert.True(open.Length == 0, $"neither tested nor excused: {string.Join(", ", open)}");
        Assert.Empty(Renamed.Keys.Concat(Elsewhere.Keys).Concat(DoNotApply.Keys).Except(confirmed));
    }

    [Fact]
    public void What_is_said_to_be_tested_elsewhere_is()
    {
        Assert.Empty(Renamed.Values.Except(Ids()));
        Assert.All(Elsewhere.Values, place => Assert.Contains($" {place.Test}(",
            File.ReadAllText(Path.Combine(Root(), "tests", place.File)), StringComparison.Ordinal));
    }

    /// <summary>A fixture that no test reads would be a check that cannot fail.</summary>
    [Fact]
    public void Every_file_of_published_values_is_read_by_a_test()
    {
        var tests = string.Concat(Directory.GetFiles(Path.Combine(Root(), "tests"), "*.cs", SearchOption.AllDirectories)
            .Where(file => !file.EndsWith("CheckCoverageTests.cs", StringComparison.Ordinal)).Select(File.ReadAllText));
        Assert.All(Directory.GetFiles(Check.Folder, "*.json"),
            file => Assert.Contains($"\"{Path.GetFileName(file)}\"", tests, StringComparison.Ordinal));
    }

    private static HashSet<string> Ids() =>
        [.. Directory.GetFiles(Check.Folder, "*.json").SelectMany(file => Check.Read(Path.GetFileName(file))).Select(check => check.Id)];

    private static string Root()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "Outcomes.sln")))
                return folder.FullName;
        throw new FileNotFoundException($"no Outcomes.sln above {AppContext.BaseDirectory}");
    }
}
