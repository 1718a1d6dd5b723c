using System.Text.Json.Nodes;
using Outcomes.Cli.Compute;
using Outcomes.Records;

namespace Outcomes.Tests;

public class ComputeTests
{
    public static TheoryData<string> Names => [.. ComputeCatalogue.All.Select(statistic => statistic.Name)];

    [Fact]
    public void The_catalogue_names_each_statistic_once_with_the_defaults_first()
    {
        var names = ComputeCatalogue.All.Select(statistic => statistic.Name).ToArray();
        Assert.Equal(names.Distinct(), names);
        Assert.Equal(["wilson", "clopper_pearson", "upper_when_none", "missing_bounds", "difference_newcombe", "difference_wald_cc",
            "poisson_rate"], names.Take(7));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Every_example_runs_and_names_its_source(string name)
    {
        var statistic = ComputeCatalogue.All.Single(candidate => candidate.Name == name);
        var result = ComputeCatalogue.Run(name, statistic.Example);
        Assert.Equal(name, result["statistic"]!.GetValue<string>());
        Assert.Equal(statistic.Source, result["source"]!.GetValue<string>());
        Assert.False(string.IsNullOrWhiteSpace(statistic.Source + statistic.Summary));
        Assert.All(statistic.Inputs, input => Assert.False(string.IsNullOrWhiteSpace(input.Meaning)));
    }

    [Theory]
    // Newcombe RG. Stat Med 1998;17:857-872, Table I.
    [InlineData("wilson", """{"met":81,"eligible":263}""", 0.2553, 0.3662)]
    [InlineData("clopper_pearson", """{"met":81,"eligible":263}""", 0.2527, 0.3676)]
    // Newcombe RG. Stat Med 1998;17:873-890, Table II.
    [InlineData("difference_newcombe", """{"first":{"met":56,"eligible":70},"second":{"met":48,"eligible":80}}""", 0.0524, 0.3339)]
    // Prekker ME et al. N Engl J Med 2023;389:418-429: 9.9 to 18.7 percentage points.
    [InlineData("difference_wald_cc", """{"first":{"met":600,"eligible":705},"second":{"met":504,"eligible":712}}""", 0.0993, 0.1871)]
    // Newcombe RG. Stat Med 1998;17:857-872, Table I.
    [InlineData("mid_p", """{"met":81,"eligible":263}""", 0.2544, 0.3658)]
    [InlineData("wilson_cc", """{"met":81,"eligible":263}""", 0.2535, 0.3682)]
    // The same, from memory.
    [InlineData("likelihood", """{"met":81,"eligible":263}""", 0.2542, 0.3655)]
    [InlineData("wald_cc", """{"met":81,"eligible":263}""", 0.2503, 0.3657)]
    // Newcombe RG. Stat Med 1998;17:873-890, Table II, as tabulated again in a conference paper.
    [InlineData("difference_miettinen_nurminen",
        """{"first":{"met":56,"eligible":70},"second":{"met":48,"eligible":80}}""", 0.0528, 0.3382)]
    // Fagerland MW, Lydersen S, Laake P. Statistical Analysis of Contingency Tables. 2017, ch. 4.
    [InlineData("odds_ratio_mid_p", """{"first":{"met":9,"eligible":13},"second":{"met":4,"eligible":14}}""", 1.0226, 31.5025)]
    // Output of R 4.2.2, poisson.test, data of its documentation.
    [InlineData("rate_ratio_exact", """{"first":{"events":11,"exposure":800},"second":{"events":21,"exposure":3011}}""", 0.8584, 4.2773)]
    // By hand: 8 of 20 and 18 of 20.
    [InlineData("missing_bounds", """{"met":8,"eligible":10,"missing":10}""", 0.4, 0.9)]
    public void Intervals_are_the_published_ones(string name, string json, double lower, double upper)
    {
        var result = ComputeCatalogue.Run(name, json);
        Assert.Equal(lower, result["lower"]!.GetValue<double>(), 5.1e-5);
        Assert.Equal(upper, result["upper"]!.GetValue<double>(), 5.1e-5);
    }

    [Fact]
    public void A_level_widens_the_interval() =>
        Assert.True(Lower("""{"met":81,"eligible":263,"level":0.99}""") < Lower("""{"met":81,"eligible":263}"""));

    [Fact]
    public void None_of_thirty_leaves_9_5_percent() =>
        Assert.Equal(0.095, ComputeCatalogue.Run("upper_when_none", """{"eligible":30}""")["upper"]!.GetValue<double>(), 5e-4);

    [Fact]
    public void Limits_for_24_useful_points_are_8_and_8()
    {
        // Anhøj J, Olesen AV. PLoS ONE 2014;9:e113825, worked example; chance by exact enumeration.
        var result = ComputeCatalogue.Run("longest_run_and_crossings", """{"useful":24}""");
        Assert.Equal((8, 8), (result["run_limit"]!.GetValue<int>(), result["crossings_limit"]!.GetValue<int>()));
        Assert.Equal(0.0662, result["chance_of_either"]!.GetValue<double>(), 5e-5);
    }

    [Fact]
    public void The_joint_distribution_comes_on_request()
    {
        // Wentzel-Larsen T, Anhøj J. PLoS ONE 2019;14:e0223233: 14 points, 3 crossings, longest run 6: 78 of 8,192.
        var result = ComputeCatalogue.Run("longest_run_and_crossings", """{"useful":14,"joint":true}""");
        Assert.Equal(78 / 8192.0, result["joint"]![3]![5]!.GetValue<double>(), 1e-12);
        Assert.Null(ComputeCatalogue.Run("longest_run_and_crossings", """{"useful":14}""")["joint"]);
    }

    [Fact]
    public void A_run_chart_says_what_was_tested_and_how_the_chance_was_found()
    {
        // A baseline of part of the points, where fair coins do not hold.
        const string series = """
            {"met":[8,9,7,10,0,8,11,12,11,12,12,11,12],"eligible":[12,13,11,14,0,12,13,14,12,13,13,12,13],
            "start":"2025-03","baseline_months":6}
            """;
        var withSeed = series[..^1] + ",\"seed\":7}";
        var coin = ComputeCatalogue.Run("run_chart", series);
        Assert.Equal("2025-07", coin["points"]![4]!["from"]!.GetValue<string>());
        Assert.Null(coin["points"]![4]!["value"]);
        Assert.False(coin["fair_coin_holds"]!.GetValue<bool>());
        // Without a seed the same stated one serves every time.
        Assert.Equal(("simulated", 1), (coin["chance_method"]!.GetValue<string>(), coin["seed"]!.GetValue<long>()));
        Assert.True(JsonNode.DeepEquals(coin, ComputeCatalogue.Run("run_chart", series[..^1] + ",\"seed\":1}")));
        var seeded = ComputeCatalogue.Run("run_chart", withSeed);
        Assert.Equal(("simulated", 7), (seeded["chance_method"]!.GetValue<string>(), seeded["seed"]!.GetValue<long>()));
        Assert.True(JsonNode.DeepEquals(seeded, ComputeCatalogue.Run("run_chart", withSeed)));
        Assert.NotEqual(coin["chance"]!.GetValue<double>(), seeded["chance"]!.GetValue<double>());
        var whole = ComputeCatalogue.Run("run_chart", series[..^1].Replace("months\":6", "months\":13", StringComparison.Ordinal) + "}");
        Assert.Equal(("fair_coin", true), (whole["chance_method"]!.GetValue<string>(), whole["fair_coin_holds"]!.GetValue<bool>()));
        Assert.Null(whole["seed"]);
        var quarters = ComputeCatalogue.Run("run_chart", """{"met":[1,2,3],"eligible":[4,4,4],"start":"2025-02"}""");
        Assert.Equal(("quarter", "few_cases"), (quarters["span"]!.GetValue<string>(), quarters["why_untested"]!.GetValue<string>()));
        Assert.Equal(2, quarters["points"]!.AsArray().Count);
    }

    [Theory]
    [InlineData("p_chart")]
    [InlineData("g_chart")]
    [InlineData("funnel")]
    [InlineData("learning_curve")]
    [InlineData("segmented_regression")]
    public void What_could_be_misread_carries_its_caution(string name)
    {
        var result = ComputeCatalogue.Run(name, ComputeCatalogue.All.Single(statistic => statistic.Name == name).Example);
        Assert.False(string.IsNullOrWhiteSpace(result["caution"]!.GetValue<string>()));
        Assert.DoesNotContain("rank\":", result.ToJsonString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("wilson", """{"met":81}""", "eligible is missing")]
    [InlineData("wilson", """{"met":81,"eligible":263,"n":1}""", "n is not an input")]
    [InlineData("wilson", """{"met":-1,"eligible":263}""", "met must be a whole number from 0 to 263")]
    [InlineData("wilson", """{"met":264,"eligible":263}""", "met must be a whole number from 0 to 263")]
    [InlineData("wilson", """{"met":8.5,"eligible":10}""", "met must be a whole number")]
    [InlineData("wilson", """{"met":"8","eligible":10}""", "met must be a whole number")]
    [InlineData("wilson", """{"met":0,"eligible":0}""", "eligible must be a whole number from 1")]
    [InlineData("wilson", """{"met":1,"eligible":2,"level":95}""", "level must be")]
    [InlineData("wilson", """{"met":1,"met":2,"eligible":2}""", "not valid JSON, or name a key twice")]
    [InlineData("wilson", """{"met":1""", "not valid JSON")]
    [InlineData("wilson", "[1,2]", "must be a JSON object")]
    [InlineData("wilson", "null", "must be a JSON object")]
    [InlineData("wilson", null, "met is missing")]
    [InlineData("upper_when_none", """{"eligible":30,"met":0}""", "met is not an input")]
    [InlineData("missing_bounds", """{"met":0,"eligible":0,"missing":0}""", "eligible and missing are both 0")]
    [InlineData("difference_newcombe", """{"first":{"met":1,"eligible":2}}""", "second is missing")]
    [InlineData("difference_newcombe", """{"first":3,"second":4}""", "first must be an object")]
    [InlineData("difference_newcombe", """{"first":{"met":1,"eligible":2},"second":{"met":1,"eligible":2,"x":1}}""",
        "second.x is not an input")]
    [InlineData("difference_newcombe", """{"first":{"met":3,"eligible":2},"second":{"met":1,"eligible":2}}""", "first.met must be")]
    [InlineData("goodman", """{"counts":[3]}""", "counts must be a list of 2 to 100 whole numbers")]
    [InlineData("goodman", """{"counts":[0,0]}""", "counts must hold at least one record")]
    [InlineData("goodman", """{"counts":[3,-1]}""", "counts[1] must be a whole number from 0")]
    [InlineData("odds_ratio_exact", """{"first":{"met":1,"eligible":2000000},"second":{"met":1,"eligible":2}}""", "first.eligible must be")]
    [InlineData("rate_ratio_exact", """{"first":{"events":1},"second":{"events":1,"exposure":2}}""", "first.exposure must be")]
    [InlineData("rate_ratio_exact", """{"first":{"events":0,"exposure":1},"second":{"events":0,"exposure":2}}""", "no event")]
    [InlineData("rate_ratio_exact", """{"first":{"events":0,"exposure":1,"x":1},"second":{"events":0,"exposure":2}}""",
        "first.x is not an input")]
    [InlineData("mantel_haenszel", """{"first":[{"met":1,"eligible":2}],"second":[]}""", "second must be a list")]
    [InlineData("mantel_haenszel",
        """{"first":[{"met":1,"eligible":2}],"second":[{"met":1,"eligible":2},{"met":1,"eligible":2}]}""", "first has 1 strata")]
    [InlineData("mantel_haenszel", """{"first":[{"met":0,"eligible":0}],"second":[{"met":1,"eligible":2}]}""", "no stratum")]
    [InlineData("trend", """{"groups":[{"met":1,"eligible":2},{"met":1,"eligible":2}],"scores":[1]}""", "scores has 1 numbers")]
    [InlineData("trend", """{"groups":[{"met":0,"eligible":2},{"met":0,"eligible":2}]}""", "groups say nothing")]
    [InlineData("quantile", """{"values":[1,"2"]}""", "values[1] must be a number")]
    [InlineData("quantile", """{"values":[1,2],"n":[1]}""", "n has 1 numbers")]
    [InlineData("quantile", """{"values":[1],"n":[0]}""", "n must hold at least one value")]
    [InlineData("kappa", """{"table":[[1,2],[3]]}""", "table[1] must be a list of 2 whole numbers")]
    [InlineData("kappa", """{"table":[[3,0],[0,0]]}""", "one and the same category")]
    [InlineData("two_proportion_size", """{"first":0.5,"second":0.5}""", "second must differ")]
    [InlineData("two_proportion_size", """{"first":0,"second":0.5}""", "first must be a number above 0")]
    [InlineData("run_chart", """{"met":[1],"eligible":[2,3]}""", "met has 1 months and eligible has 2")]
    [InlineData("run_chart", """{"met":[1,4],"eligible":[2,3]}""", "met[1] must be")]
    [InlineData("run_chart", """{"met":[1,null],"eligible":[2,3]}""", "met[1] must be")]
    [InlineData("run_chart", """{"met":1,"eligible":[2]}""", "met must be a list")]
    [InlineData("run_chart", """{"met":[1],"eligible":[2],"start":"2025-13"}""", "start must be a month")]
    [InlineData("run_chart", """{"met":[1],"eligible":[2],"start":"2025-03","baseline_from":"2025-02"}""",
        "baseline_from is before the start")]
    [InlineData("run_chart", """{"met":[1],"eligible":[2],"span":"week"}""", "span must be one of auto, month, quarter")]
    [InlineData("longest_run_and_crossings", """{"useful":101,"joint":true}""", "useful must be a whole number from 1 to 100")]
    [InlineData("longest_run_and_crossings", """{"useful":10,"joint":"yes"}""", "joint must be true or false")]
    [InlineData("change_odds", """{"met":[1],"eligible":[2]}""", "there is no statistic change_odds")]
    [InlineData("monthly_test", """{"events":[1]}""", "cases is missing")]
    [InlineData("monthly_test", """{"events":[3],"cases":[2],"history":1}""", "events[0] must be a whole number from 0 to 2")]
    [InlineData("monthly_test", """{"events":[1],"cases":[2,3]}""", "events has 1 months and cases has 2")]
    [InlineData("monthly_test", """{"events":[1],"cases":[2]}""", "history is 12 months and there are 1 months of counts")]
    [InlineData("monthly_test", """{"events":[1],"cases":[1000001],"history":1}""", "cases adds up to more than 1000000")]
    [InlineData("monthly_test", """{"events":[1],"cases":[2],"history":1,"pace":"proof"}""",
        "pace must be one of default, strict, faster")]
    [InlineData("monthly_test", """{"events":[1],"cases":[2],"history":1,"expected":[0.2]}""", "expected has 1 chances for 2 cases")]
    [InlineData("monthly_test_power", """{"events":[1],"cases":[2],"history":1}""", "changed is missing")]
    [InlineData("monthly_test_power", """{"events":[1],"cases":[2],"history":1,"changed":70}""",
        "changed must be a number from 0.001 to 0.999")]
    [InlineData("planned_comparison", """{"events_before":[1],"cases_before":[2],"events_after":[1]}""", "cases_after is missing")]
    [InlineData("planned_comparison", """{"events_before":[1],"cases_before":[2,2],"events_after":[1],"cases_after":[2]}""",
        "events_before has 1 months and cases_before has 2")]
    [InlineData("p_chart", """{"met":[1],"eligible":[2]}""", "baseline_points is missing")]
    [InlineData("p_chart", """{"met":[1],"eligible":[2,3],"baseline_points":1}""", "met has 1 points and eligible has 2")]
    [InlineData("p_chart", """{"met":[1],"eligible":[2],"baseline_points":1,"limits":"wald"}""",
        "limits must be one of exact, normal, laney")]
    [InlineData("p_chart", """{"met":[1],"eligible":[2],"baseline_points":1,"multiple":0}""", "multiple must be a number")]
    [InlineData("u_chart", """{"events":[1],"exposures":[0],"baseline_points":1}""", "exposures[0] is 0")]
    [InlineData("u_chart", """{"events":[1],"exposures":[1,2],"baseline_points":1}""", "exposures has 2 points and events has 1")]
    [InlineData("u_chart", """{"events":[1],"exposures":[null],"baseline_points":1}""", "exposures[0] must be a number")]
    [InlineData("u_chart", """{"events":[1000000000,5],"exposures":[0.000000000001,1000000000000],"baseline_points":1}""",
        "exposures expect more events")]
    [InlineData("cumulative_poisson", """{"observed":[1000001],"expected":[1]}""", "observed[0] must be a whole number")]
    [InlineData("individuals_chart", """{"values":["1"],"baseline_points":1}""", "values[0] must be a number")]
    [InlineData("g_chart", """{"cases":[0],"baseline_points":1}""", "cases[0] must be a whole number from 1")]
    [InlineData("t_chart", """{"times":[-1],"baseline_points":1}""", "times[0] must be a number from 0")]
    [InlineData("cumulative_poisson", """{"observed":[1],"expected":[]}""", "expected has 0 points and observed has 1")]
    [InlineData("learning_curve", """{"failures":[2],"acceptable":0.1,"unacceptable":0.2}""",
        "failures[0] must be a whole number from 0 to 1")]
    [InlineData("learning_curve", """{"failures":[1],"acceptable":0.2,"unacceptable":0.2}""", "unacceptable must be above acceptable")]
    [InlineData("segmented_regression", """{"met":[1,1],"eligible":[2,2],"start":"2024-01","change":"2024-01"}""",
        "change must be a month after 2024-01")]
    [InlineData("funnel", """{"met":[1,1],"eligible":[2,2],"groups":["A"]}""", "groups has 1 names for 2 groups")]
    [InlineData("funnel", """{"met":[1],"eligible":[2],"groups":[7]}""", "groups[0] must be a text")]
    [InlineData("shrinkage", """{"met":[0,2],"eligible":[2,2]}""", "met needs two groups with records")]
    [InlineData("james_stein", """{"values":[1,2,3],"variance":1}""", "values must have at least four")]
    [InlineData("pooled_proportion", """{"met":[0],"eligible":[0]}""", "eligible must have at least one site")]
    [InlineData("pooled_proportion", """{"met":3,"eligible":4}""", "met must be a list of whole numbers, one a site")]
    [InlineData("pooled_proportion", """{"met":[1],"eligible":[2,3]}""", "met has 1 sites and eligible has 2")]
    [InlineData("funnel", """{"met":3,"eligible":4}""", "met must be a list of whole numbers, one a group")]
    [InlineData("p_chart", """{"met":3,"eligible":4,"baseline_points":1}""", "met must be a list of whole numbers, one a point")]
    [InlineData("pooled_effect", """{"values":[1],"variances":[]}""", "variances has 0 groups and values has 1")]
    [InlineData("pooled_effect", """{"values":[1],"variances":[1],"between":"best"}""",
        "between must be one of reml, paule_mandel, dersimonian_laird, none")]
    [InlineData("wilsn", "{}", "there is no statistic wilsn")]
    public void A_wrong_missing_or_unknown_input_is_a_usage_failure_that_names_it(string name, string? json, string says)
    {
        var failure = Assert.Throws<Failure>(() => ComputeCatalogue.Run(name, json));
        Assert.Equal(ExitCode.Usage, failure.Code);
        Assert.Contains(says, failure.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void An_end_without_bound_is_named_and_a_ratio_without_value_is_null()
    {
        var none = ComputeCatalogue.Run("risk_ratio_score", """{"first":{"met":0,"eligible":5},"second":{"met":0,"eligible":5}}""");
        Assert.Null(none["value"]);
        Assert.Equal((0, "infinity"), (none["lower"]!.GetValue<double>(), none["upper"]!.GetValue<string>()));
    }

    private static double Lower(string json) => ComputeCatalogue.Run("wilson", json)["lower"]!.GetValue<double>();
}
