using Outcomes.Measures;
using Outcomes.Records;

namespace Outcomes.Tests;

public sealed class AttemptTests
{
    private const string Records =
        "SELECT * FROM (VALUES ('a', DATE '2026-01-05'), ('b', DATE '2026-01-06'), ('c', DATE '2026-01-07')) t(record_id, event_date)";

    /// <summary>a: rescue between two laryngoscopies; b: one attempt whose outcome is missing; c: none.</summary>
    private const string Attempts = """
        SELECT * FROM (VALUES
          (0, 2, 'a', 3, 'A', 'video', 'success', 81), (0, 2, 'a', 1, 'A', 'direct', 'no_view', 90), (0, 2, 'a', 2, 'B', 'sga_insertion', 'success', NULL),
          (1, 3, 'b', 1, 'A', 'direct', NULL, 95)) t("row", line, record_id, attempt_no, plan, technique, outcome, spo2_min)
        """;

    private const string Rollups = "attempt_rows, intubation_attempts, attempt_successes, attempts_contiguous, plan_a_attempts, "
        + "plan_b_successes, attempt_path, attempt_spo2_min, attempt_oesophageal, "
        + "attempt1_technique, attempt2_outcome, success_within_two, first_pass, first_airway_is_intubation_attempt";

    [Fact]
    public void Attempts_in_columns_and_in_a_file_of_their_own_give_the_same_rollups()
    {
        using var wide = new Store().Add(Records, Attempts);
        using var own = new Store().Add(Records).Add(null, Attempts);
        foreach (var store in new[] { wide, own })
        {
            using var engine = Engine.Open(FieldDictionary.Shipped, store.Sources, new EngineOptions { AsOf = new DateOnly(2026, 3, 31) });
            var rows = engine.Query($"SELECT {Rollups} FROM records ORDER BY record_id").Rows;
            Assert.Equal([3, 2, 1, true, 2, 1, "A-B+A+", 81, false, "direct", "success", true, false, true], rows[0]);
            Assert.Equal([1, 1, null, true, 1, null, "A?", 95, null, "direct", null, null, null, true], rows[1]);
            Assert.All(rows[2], Assert.Null);
        }
    }

    [Fact]
    public void Success_within_two_counts_intubation_attempts_and_not_rescues()
    {
        using var store = new Store().Add("SELECT * FROM (VALUES ('a', DATE '2026-01-05'), ('b', DATE '2026-01-05'), ('c', "
            + "DATE '2026-01-05')) t(record_id, event_date)").Add(null, """
            SELECT * FROM (VALUES
              ('a', 1, 'direct', 'no_view'), ('a', 2, 'facemask', 'success'), ('a', 3, 'video', 'no_view'), ('a', 4, 'video', 'success'),
              ('b', 1, 'direct', 'no_view'),
              ('c', 1, 'direct', 'no_view'), ('c', 2, NULL, 'success')) t(record_id, attempt_no, technique, outcome)
            """);
        using var engine = Engine.Open(FieldDictionary.Shipped, store.Sources, new EngineOptions { AsOf = new DateOnly(2026, 3, 31) });
        Assert.Equal([false, false, null], engine.Query("SELECT success_within_two FROM records ORDER BY record_id").Rows
            .Select(row => row[0]));
    }

    [Fact]
    public void Times_of_another_plan_come_from_its_first_attempt_and_first_success_never_from_later_ones()
    {
        // a: plan B fails and plan C ventilates from its start; b: plan B in place after 20 s; c: the first other plan has no time;
        // d: plan A alone.
        using var store = new Store().Add("SELECT * FROM (VALUES ('a', DATE '2026-01-05'), ('b', DATE '2026-01-05'), ('c', "
            + "DATE '2026-01-05'), ('d', DATE '2026-01-05')) t(record_id, event_date)").Add(null, """
            SELECT * FROM (VALUES
              ('a', 3, 'C', 'facemask', 'success', 300, 200), ('a', 1, 'A', 'direct', 'no_view', 60, 50), ('a', 2, 'B', 'sga_insertion', 'other', 240, 30),
              ('b', 1, 'A', 'direct', 'no_view', 60, 50), ('b', 2, 'B', 'sga_insertion', 'success', 240, 20), ('b', 3, 'A', 'video', 'success', 400, 40),
              ('c', 1, 'A', 'direct', 'no_view', 60, 50), ('c', 2, 'B', 'sga_insertion', 'success', NULL, 20), ('c', 3, 'C', 'facemask', 'success', 400, 90),
              ('d', 1, 'A', 'direct', 'success', 60, 50)) t(record_id, attempt_no, plan, technique, outcome, t_blade_in_s, duration_s)
            """);
        using var engine = Engine.Open(FieldDictionary.Shipped, store.Sources, new EngineOptions { AsOf = new DateOnly(2026, 3, 31) });
        var rows = engine.Query("SELECT other_plan_start_s, other_plan_airway_s, left_plan_a FROM records ORDER BY record_id").Rows;
        Assert.Equal([[240, 300, true], [240, 260, true], [null, null, true], [null, null, false]], rows.Select(row => row.ToArray()));
    }

    [Fact]
    public void Attempt_rows_set_aside_do_not_count_and_a_newer_file_stands_until_then()
    {
        using var store = new Store().Add(Records)
            .Add(null, "SELECT * FROM (VALUES (0, 2, 'a', 1, 'no_view'), (1, 3, 'a', 2, 'success'), (2, 4, 'b', 1, 'no_view')) t(\"row\", "
                + "line, record_id, attempt_no, outcome)")
            .Add(null, "SELECT * FROM (VALUES (0, 2, 'a', 1, 'success')) t(\"row\", line, record_id, attempt_no, outcome)");
        using var engine = Engine.Open(FieldDictionary.Shipped, store.Sources, new EngineOptions { AsOf = new DateOnly(2026, 3, 31) });
        const string sql = "SELECT attempt_rows, attempt1_outcome FROM records ORDER BY record_id";
        Assert.Equal([1, "success"], engine.Query(sql).Rows[0]);
        engine.SetAside([new SetAside(2, true, 0)]);
        Assert.Equal([2, "no_view"], engine.Query(sql).Rows[0]);
        engine.SetAside([new SetAside(1, true, 0), new SetAside(1, true, 1)]);
        Assert.Equal([null, null], engine.Query(sql).Rows[0]);
        Assert.Equal([1, "no_view"], engine.Query(sql).Rows[1]);
        Assert.Equal(1L, engine.Query("SELECT count(*) FROM attempts").Rows[0][0]);
    }

    [Fact]
    public void Where_a_record_has_attempts_in_columns_and_in_a_newer_file_the_newer_ones_stand()
    {
        using var store = new Store().Add(Records, Attempts)
            .Add(null, "SELECT * FROM (VALUES ('a', 1, 'success')) t(record_id, attempt_no, outcome)");
        using var engine = Engine.Open(FieldDictionary.Shipped, store.Sources, new EngineOptions { AsOf = new DateOnly(2026, 3, 31) });
        Assert.Equal([1, 1, null], engine.Query("SELECT attempt_rows FROM records ORDER BY record_id").Rows.Select(row => row[0]));
    }

    [Fact]
    public void The_ladder_reads_attempts_then_plan_fields_then_the_final_plan()
    {
        using var store = new Store().Add("""
            SELECT *, 'emergency' AS urgency, 60 AS age_years FROM (VALUES
              ('a', DATE '2026-01-05', 'succeeded', 'succeeded', 'not_used', 'not_used', 'A'), ('b', DATE '2026-01-06', 'failed', 'succeeded', 'not_used', 'not_used', 'B'),
              ('c', DATE '2026-01-07', NULL, NULL, NULL, NULL, 'A'), ('d', DATE '2026-02-07', 'succeeded', NULL, NULL, NULL, 'A')) t(record_id, event_date, plan_a, plan_b, plan_c, plan_d, final_plan)
            """, "SELECT * FROM (VALUES (0, 2, 'a', 1, 'A', 'no_view'), (0, 2, 'a', 2, 'B', 'success'), (0, 2, 'a', 3, 'A', "
                + "'success')) t(\"row\", line, record_id, attempt_no, plan, outcome)");
        using var engine = Engine.Open(FieldDictionary.Shipped, store.Sources, new EngineOptions { AsOf = new DateOnly(2026, 3, 31) });
        var ladder = engine.Ladder(new Month(2026, 1), new Month(2026, 1));
        Assert.Equal((3, 1, 1, 1, 0), (ladder.Records, ladder.FromAttempts, ladder.FromPlanFields, ladder.FromFinalPlan, ladder.Unknown));
        Assert.Equal([new PlanStep("A", "B", 2), new PlanStep("B", "A", 1)], ladder.Steps);
        Assert.Equal([new PlanUse("A", 2, 3, 2, 2, 3), new PlanUse("B", 0, 2, 1, 2, 2), new PlanUse("C", 0, 0, 0, 0, 0),
            new PlanUse("D", 0, 0, 0, 0, 0)], ladder.Plans);
    }
}
