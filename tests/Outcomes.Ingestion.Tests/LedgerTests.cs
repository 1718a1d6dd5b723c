using Outcomes.Ingestion.Ledgers;
using Outcomes.Ingestion.Mapping;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion;

public class LedgerTests
{
    private static readonly SourceMapping Records = Maps.Of("record_id", "event_date", "spo2_min") with
    {
        Text = "records",
        Status = new StatusMapping("state", ["deleted", "void"], 9),
        Attempts = new WideAttempts("a{n}_*", [], 10),
    };

    private static readonly IReadOnlyDictionary<(int Source, int Row), string> Nothing = new Dictionary<(int, int), string>();

    [Theory]
    [InlineData("R1 R2 R3", "AAA")]
    [InlineData("R1 R2 R1", "SAA")]
    [InlineData("R1 R1 R1", "SSA")]
    [InlineData("R1 R1!", "AQ")]           // a refused correction keeps the last good version
    [InlineData("R1! R1", "QA")]
    [InlineData("R1 R1! R1", "SQA")]
    [InlineData("R1-", "W")]
    [InlineData("R1 R1-", "WW")]
    [InlineData("R1- R1", "SA")]           // entered again after its deletion
    [InlineData("R1 R1- R1 R1-", "WWWW")]
    [InlineData("R1 R1!-", "AQ")]          // a deletion that cannot be placed deletes nothing
    [InlineData("R1 R1! R1-", "WQW")]
    [InlineData("! ! R1", "QQA")]          // rows without a key are not each other's duplicates
    public void Under_last_the_latest_good_row_counts(string rows, string fates) => Assert.Equal(fates, Fates(rows, DuplicatePolicy.Last));

    [Theory]
    [InlineData("R1 R2 R1", "AAQ")]
    [InlineData("R1! R1", "QQ")]
    [InlineData("R1 R1! R1", "AQQ")]
    [InlineData("R1- R1", "WQ")]
    [InlineData("R1 R1-", "AQ")]
    public void Under_first_the_first_row_counts_good_or_not(string rows, string fates) =>
        Assert.Equal(fates, Fates(rows, DuplicatePolicy.First));

    [Fact]
    public void The_rule_that_decided_is_named()
    {
        using var place = new Workplace();
        var source = place.Read(Table("R1 R1 R2- R3 R3!"), Records);
        var last = Stored.Keep(DuplicatePolicy.Last, strict: false, source);
        Assert.Equal(["corrected", "", "deleted", "", "not_date"], Enumerable.Range(0, 5).Select(row => last.RuleOf(0, row)));
        var first = Stored.Keep(DuplicatePolicy.First, strict: false, source);
        Assert.Equal(["", "duplicate", "deleted", "", "not_date"], Enumerable.Range(0, 5).Select(row => first.RuleOf(0, row)));
    }

    [Fact]
    public void A_row_held_for_its_date_does_not_blame_another_cell()
    {
        using var place = new Workplace();
        var mapping = Maps.Of("spo2_min", "record_id", "event_date");
        var source = place.Read("spo2_min,record_id,event_date\nx,R1,soon\n", mapping);
        Assert.Equal("not_date", Stored.Keep(DuplicatePolicy.Last, strict: false, source).RuleOf(0, 0));
        Assert.Equal("not_integer", Stored.Keep(DuplicatePolicy.Last, strict: true, source).RuleOf(0, 0));
    }

    [Fact]
    public void Strict_refuses_any_bad_cell_but_not_a_doubtful_one()
    {
        using var place = new Workplace();
        var source = place.Read("record_id,event_date,spo2_min,state,a1_outcome\nR1,2024-01-31,x,,\nR2,2024-01-31,45,,\nR3,2024-01-31,,,\n"
            + "R4,2024-01-31,97,,bad\nR5,2024-01-31,unknown,,\n", Records);
        Assert.Equal("AAAAA", Stored.Fates(Stored.Keep(DuplicatePolicy.Last, strict: false, source), 0));
        var strict = Stored.Keep(DuplicatePolicy.Last, strict: true, source);
        Assert.Equal("QAAQA", Stored.Fates(strict, 0));
        Assert.Equal(("not_integer", "not_allowed"), (strict.RuleOf(0, 0), strict.RuleOf(0, 3)));
        Assert.Equal(0.4, strict.QuarantinedShare);
    }

    [Fact]
    public void A_rule_s_refusal_keeps_the_last_good_version_of_an_earlier_source()
    {
        using var place = new Workplace();
        var (old, corrected) = (place.Read(Table("R1 R2"), Records), place.Read(Table("R2 R1"), Records, order: 1));
        var ledger = LedgerKeeper.Keep([old, corrected], new Dictionary<(int, int), string> { [(1, 1)] = "lowest_below_first" },
            DuplicatePolicy.Last, strict: false);
        Assert.Equal(("AS", "AQ"), (Stored.Fates(ledger, 0), Stored.Fates(ledger, 1)));
        Assert.Equal("lowest_below_first", ledger.RuleOf(1, 1));
        Assert.Equal([new SetAside(0, false, 1), new SetAside(1, false, 1)], ledger.SetAside());
    }

    [Fact]
    public void The_order_of_sources_decides_what_corrects_what()
    {
        using var place = new Workplace();
        var (one, other) = (place.Read(Table("R1 R2"), Records), place.Read(Table("R1- R3"), Records, order: 1));
        Assert.Equal("WA WA", Both(Stored.Keep(DuplicatePolicy.Last, strict: false, one, other)));
        Assert.Equal("SA AA", Both(Stored.Keep(DuplicatePolicy.Last, strict: false, other, one)));
    }

    [Fact]
    public void Sums_are_of_each_file_and_in_total()
    {
        using var place = new Workplace();
        var ledger = Stored.Keep(DuplicatePolicy.Last, strict: false, place.Read(Table("R1 R1! R2 R3-"), Records),
            place.Read(Table("R1 R4"), Records, order: 1));
        Assert.Equal(new Reconciliation("s0.csv", 4, 1, 1, 1, 1), ledger.Files[0]);
        Assert.Equal(new Reconciliation("s1.csv", 2, 2, 0, 0, 0), ledger.Files[1]);
        Assert.Equal(new Reconciliation("total", 6, 3, 1, 1, 1), ledger.Total);
    }

    [Fact]
    public void Attempts_share_their_record_s_fate()
    {
        using var place = new Workplace();
        var records = place.Read(Table("R1 R2- R3! R4 R4"), Records);
        var attempts = place.Read("record_id,attempt_no,outcome\nR1,1,success\nR2,1,success\nR3,1,success\nR4,1,success\nR9,1,success\n",
            Maps.Attempts, order: 1);
        var ledger = Stored.Keep(DuplicatePolicy.Last, strict: false, records, attempts);
        Assert.Equal("AWQAQ", Stored.Fates(ledger, 1));
        Assert.Equal(["", "deleted", "attempt_without_record", "", "attempt_without_record"],
            Enumerable.Range(0, 5).Select(row => ledger.RuleOf(1, row)));
        Assert.Contains(new SetAside(1, true, 1), ledger.SetAside());
    }

    [Fact]
    public void A_repeated_attempt_is_quarantined()
    {
        using var place = new Workplace();
        var ledger = Stored.Keep(DuplicatePolicy.Last, strict: false, place.Read(Table("R1"), Records),
            place.Read("record_id,attempt_no,outcome\nR1,1,success\nR1,x,success\nR1,1,no_view\nR1,2,no_view\n", Maps.Attempts, order: 1));
        Assert.Equal("AQQA", Stored.Fates(ledger, 1));
        Assert.Equal("attempt_repeated", ledger.RuleOf(1, 2));
    }

    [Fact]
    public void A_newer_source_s_attempts_replace_all_older_ones()
    {
        using var place = new Workplace();
        var records = place.Read("record_id,event_date,spo2_min,state,a1_outcome,a2_outcome\nR1,2024-01-31,97,,no_view,success\n"
            + "R2,2024-01-31,97,,success,\n", Records);
        var older = place.Read("record_id,attempt_no,outcome\nR1,1,success\nR1,2,success\n", Maps.Attempts, order: 1);
        var newer = place.Read("record_id,attempt_no,outcome\nR1,1,no_view\n", Maps.Attempts, order: 2);
        var ledger = Stored.Keep(DuplicatePolicy.Last, strict: false, records, older, newer);
        Assert.Equal(("AA", "SS", "A"), (Stored.Fates(ledger, 0), Stored.Fates(ledger, 1), Stored.Fates(ledger, 2)));
        Assert.Equal([new SetAside(0, true, 0)], ledger.ReplacedAttempts);
        Assert.Equal(ledger.ReplacedAttempts, ledger.SetAside().Where(aside => aside.Source == 0));

        var columnsLast = Stored.Keep(DuplicatePolicy.Last, strict: false, older, records);
        Assert.Equal("SS AA", Both(columnsLast));
        Assert.Empty(columnsLast.ReplacedAttempts);
    }

    [Fact]
    public void Bad_attempts_of_a_newer_source_replace_nothing()
    {
        using var place = new Workplace();
        var ledger = Stored.Keep(DuplicatePolicy.Last, strict: false, place.Read(Table("R1"), Records),
            place.Read("record_id,attempt_no,outcome\nR1,1,success\n", Maps.Attempts, order: 1),
            place.Read("record_id,attempt_no,outcome\nR1,0,no_view\n", Maps.Attempts, order: 2));
        Assert.Equal(("A", "Q"), (Stored.Fates(ledger, 1), Stored.Fates(ledger, 2)));
    }

    [Fact]
    public void Without_rows_nothing_is_quarantined()
    {
        using var place = new Workplace();
        Assert.Equal(0, LedgerKeeper.Keep([place.Read(Table(""), Records)], Nothing, DuplicatePolicy.Last, strict: true).QuarantinedShare);
    }

    private static string Both(Ledger ledger) => $"{Stored.Fates(ledger, 0)} {Stored.Fates(ledger, 1)}";

    private static string Fates(string rows, DuplicatePolicy policy)
    {
        using var place = new Workplace();
        return Stored.Fates(Stored.Keep(policy, strict: false, place.Read(Table(rows), Records)), 0);
    }

    // A row is its key; ! gives it a date that is none, - says that it is deleted.
    private static string Table(string rows) =>
        "record_id,event_date,spo2_min,state,a1_outcome\n" + string.Concat(rows.Split(' ', StringSplitOptions.RemoveEmptyEntries)
            .Select(row =>
                $"{row.Trim('!', '-')},{(row.Contains('!') ? "soon" : "2024-01-31")},97,{(row.Contains('-') ? "deleted" : "")},\n"));
}
