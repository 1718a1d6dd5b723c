using System.Globalization;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Tests.Analysis;

/// <summary>
/// Who is counted, in 1,000 invented departments: a month of the engine's records each, so that one query counts them all.
/// </summary>
public sealed class FlowTests
{
    private const int Departments = 1000;

    private static readonly string?[] Urgencies = [null, "planned", "urgent", "emergency", "immediate_arrest_or_periarrest"];
    private static readonly string?[] Bands = [null, null, "0-15", "child", "adult", "60-74"];
    private static readonly string?[] FinalPlans = [null, null, "A", "D", "woken", "died"];
    private static readonly string?[] FinalAirways = [null, "tube", "none"];
    private static readonly string?[] Plans = [null, null, "not_used", "failed"];

    private sealed record Row(
        Month Month, string? Urgency, int? Age, string? Band, int? Attempts, string? Plan, string? FinalPlan, string? FinalAirway,
        bool? First, bool Dateless);

    [Fact]
    public void The_flow_adds_up_exactly_in_1000_random_departments()
    {
        var rows = Invent(new Random(20260331));
        using var store = new Store().Add(Sql(rows));
        using var engine = Open(store);
        var records = engine.RecordsByMonth().ToDictionary(month => month.Month, month => month.Records);
        var flows = Flow.ByMonth(records, [.. engine.CountedAs()])!;
        Assert.Equal(rows.Select(row => row.Month).Distinct().Count(), flows.Count);
        foreach (var department in rows.GroupBy(row => row.Month))
        {
            var flow = flows[department.Key];
            Assert.Equal(department.Count(), flow.Recorded);
            Assert.Equal(flow.Recorded,
                flow.NotEmergency + flow.UnderSixteen + flow.NoAttempt + flow.NotKnown + flow.Analysed);
            Assert.Equal(Expected(department), flow);
        }
    }

    // Whoever a measure of the emergency population asks, or might have to ask, is analysed or not known to belong.
    [Fact]
    public void No_measure_asks_more_records_than_are_analysed_or_not_known()
    {
        using var store = new Store().Add(Sql(Invent(new Random(7))));
        using var engine = Open(store);
        var records = engine.RecordsByMonth().ToDictionary(month => month.Month, month => month.Records);
        var flows = Flow.ByMonth(records, [.. engine.CountedAs()])!;
        Measure[] measures =
            [.. MeasureCatalogue.Shipped.Where(measure => measure.Id is "first_pass" or "attempts_2_plus" or "team_brief")];
        Assert.All(measures, measure => Assert.True(measure.AsksEmergencies));
        foreach (var row in engine.Count(measures, []).Rows)
            Assert.InRange(row.Count.Eligible + row.Count.Missing, 0, flows[row.Month].Analysed + flows[row.Month].NotKnown);
    }

    [Fact]
    public void More_answers_than_records_are_an_error_and_fewer_are_not_known()
    {
        var month = new Month(2026, 1);
        LevelCount[] counted = [new(month, "analysed", 3), new(month, "under_16", 1)];
        Assert.Equal(new Flow(0, 1, 0, 2, 3), Flow.Of(6, counted));
        Assert.Throws<ArgumentException>(() => Flow.Of(3, counted));
        Assert.Null(Flow.ByMonth(new Dictionary<Month, long> { [month] = 6 }, []));
    }

    [Theory]
    [InlineData("emergency and spo2_pre >= 90", "child_emergency and spo2_pre >= 90")]
    [InlineData("urgency = 'emergency' and adult", null)]
    [InlineData("child_emergency and age_years >= 1", null)]
    [InlineData("not_emergency or emergency", "not_emergency or child_emergency")]
    public void The_switch_to_children_changes_the_population_and_nothing_else(string eligible, string? expected)
    {
        var measure = new Measure("m", "M") { Eligible = eligible, Met = "first_pass" };
        Assert.Equal(expected, measure.AskedOfChildren()?.Eligible);
        Assert.Equal(expected is not null, measure.AsksEmergencies);
    }

    private static Engine Open(Store store) => Engine.Open(FieldDictionary.Shipped, store.Sources, new EngineOptions
    {
        AsOf = new DateOnly(2085, 1, 1),
        Threads = 1,
        Rules = [new ConsistencyRule("date", "hr_pre < 999", Severity.Blank) { Blanks = ["event_date"] }],
    });

    private static Row[] Invent(Random random)
    {
        return [.. Enumerable.Range(0, Departments)
            .SelectMany(department => Enumerable.Range(0, random.Next(1, 9)).Select(_ => One(department)))];

        Row One(int department) => new(
            new Month(2000, 1).AddMonths(department), Pick(Urgencies), Maybe(32), Pick(Bands), Maybe(3), Pick(Plans), Pick(FinalPlans),
            Pick(FinalAirways), random.Next(3) switch { 0 => true, 1 => false, _ => null }, random.Next(20) == 0);

        string? Pick(string?[] words) => words[random.Next(words.Length)];

        int? Maybe(int below) => random.Next(3) == 0 ? null : random.Next(below);
    }

    // By hand and in C#, not by the definition's own SQL.
    private static Flow Expected(IEnumerable<Row> rows)
    {
        var reasons = rows.Select(Reason).ToArray();
        return new Flow(Count("planned"), Count("child"), Count("none"), Count("?"), Count("in"));

        int Count(string reason) => reasons.Count(each => each == reason);

        static string Reason(Row row)
        {
            bool? adult = row.Age is { } age ? age >= 16 : row.Band is null ? null : row.Band is not ("0-15" or "child");
            bool? attempted = row.Attempts > 0 || row.First is not null || row.FinalPlan is "A" or "D" || row.Plan is "failed" ? true
                : row.Attempts == 0 && (row.FinalPlan is "woken" or "died" || row.FinalAirway is "none") ? false
                : null;
            return row.Dateless ? "?"
                : row.Urgency is not (null or "planned") && adult is true && attempted is not false ? "in"
                : row.Urgency is "planned" ? "planned"
                : adult is false ? "child"
                : attempted is false ? "none"
                : "?";
        }
    }

    private static string Sql(IEnumerable<Row> rows) =>
        "SELECT * FROM (VALUES " + string.Join(", ", rows.Select(row => string.Create(CultureInfo.InvariantCulture,
            $"(DATE '{row.Month.FirstDay:yyyy-MM-dd}', {Text(row.Urgency)}, {Number(row.Age)}, {Text(row.Band)}, {Number(row.Attempts)}, "
            + $"{Text(row.Plan)}, {Text(row.FinalPlan)}, {Text(row.FinalAirway)}, {Answer(row.First)}, {(row.Dateless ? 999 : 80)})")))
        + ") t(event_date, urgency, age_years, age_band, attempts_total, plan_b, final_plan, final_airway, first_pass_success, hr_pre)";

    private static string Text(string? word) => word is null ? "CAST(NULL AS VARCHAR)" : $"'{word}'";

    private static string Number(int? number) => number?.ToString(CultureInfo.InvariantCulture) ?? "CAST(NULL AS INTEGER)";

    private static string Answer(bool? answer) => answer is null ? "CAST(NULL AS BOOLEAN)" : answer.Value ? "true" : "false";
}
