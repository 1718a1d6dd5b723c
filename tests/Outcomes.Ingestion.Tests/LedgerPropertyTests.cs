using CsCheck;
using Outcomes.Ingestion.Ledgers;
using Outcomes.Ingestion.Mapping;
using Outcomes.Records;
using Row = Outcomes.Tests.Ingestion.NaiveLedger.Row;

namespace Outcomes.Tests.Ingestion;

public class LedgerPropertyTests
{
    private static readonly SourceMapping Records = Maps.Of("record_id", "event_date", "spo2_min") with
    {
        Text = "records",
        Status = new StatusMapping("state", ["deleted"], 9),
        Attempts = new WideAttempts("a{n}_*", [], 10),
    };

    private static readonly Gen<Row> Record = Gen.Select(
        Pick.From("A", "B", "C", "D", "E", ""), Odds(6), Odds(5), Odds(5), Odds(2), Odds(8),
        (key, badDate, badCell, deleted, wide, refused) => new Row(0, 0, key, 0, badDate || key.Length == 0, badCell,
            deleted, wide, refused));

    private static readonly Gen<Row> Attempt = Gen.Select(
        Pick.From("A", "B", "C", "D", "F", ""), Gen.Int[1, 3], Odds(6), Odds(5), Odds(8),
        (key, number, badNumber, badCell, refused) => new Row(0, 0, key, badNumber ? -1 : number, badNumber || key.Length == 0, badCell,
            Deleted: false, Wide: false, refused));

    private static readonly Gen<Row[][]> Sources = Gen.OneOf(Record.Array[0, 8], Record.Array[0, 8], Attempt.Array[0, 8]).Array[1, 4]
        .Select(sources =>
            sources.Select((rows, s) => rows.Select((row, place) => row with { Source = s, Place = place }).ToArray()).ToArray());

    [Fact]
    public void Every_row_has_the_fate_that_the_design_gives_it() =>
        Gen.Select(Sources, Gen.Bool, Gen.Bool).Sample((sources, first, strict) =>
        {
            var policy = first ? DuplicatePolicy.First : DuplicatePolicy.Last;
            var rows = sources.SelectMany(source => source).ToArray();
            var (fates, replaced) = NaiveLedger.Keep(rows, policy, strict);
            var ledger = Keep(sources, policy, strict);
            Assert.Equal(rows.Select(row => fates[row]), rows.Select(row => ledger.Of(row.Source, row.Place)));
            Assert.Equal(rows.Where(replaced.Contains).Select(row => new SetAside(row.Source, true, row.Place)), ledger.ReplacedAttempts);
            Assert.All(rows, row => Assert.Equal(fates[row] == Fate.Accepted, ledger.RuleOf(row.Source, row.Place).Length == 0));
        }, iter: 300);

    [Fact]
    public void Rows_in_are_the_sum_of_their_fates_and_a_key_counts_once() =>
        Gen.Select(Sources, Gen.Bool, Gen.Bool).Sample((sources, first, strict) =>
        {
            var ledger = Keep(sources, first ? DuplicatePolicy.First : DuplicatePolicy.Last, strict);
            foreach (var (sums, rows) in ledger.Files.Zip(sources.Select(source => source.Length))
                .Append((ledger.Total, sources.Sum(source => source.Length))))
                Assert.Equal(rows, sums.Accepted + sums.Superseded + sums.Withdrawn + sums.Quarantined);
            var counted = sources.SelectMany(source => source).Where(row => ledger.Of(row.Source, row.Place) == Fate.Accepted)
                .Select(row => (row.Key, row.Attempt)).ToArray();
            Assert.Equal(counted.Distinct().Count(), counted.Length);
            Assert.Equal(counted.Length, ledger.Total.Accepted);
            Assert.Equal(sources.Sum(source => source.Length) - counted.Length + ledger.ReplacedAttempts.Length, ledger.SetAside().Count());
        }, iter: 150);

    private static Gen<bool> Odds(int oneIn) => Gen.Int[1, oneIn].Select(n => n == 1);

    private static Ledger Keep(Row[][] sources, DuplicatePolicy policy, bool strict)
    {
        using var place = new Workplace();
        var refused = sources.SelectMany(source => source).Where(row => row.Refused)
            .ToDictionary(row => (row.Source, row.Place), _ => "a_rule");
        return LedgerKeeper.Keep([.. sources.Select((rows, s) => rows.Any(row => row.Attempt != 0)
            ? place.Read("record_id,attempt_no,outcome\n" + string.Concat(rows.Select(AttemptLine)), Maps.Attempts, s)
            : place.Read("record_id,event_date,spo2_min,state,a1_outcome\n" + string.Concat(rows.Select(RecordLine)), Records, s))],
            refused, policy, strict);
    }

    private static string AttemptLine(Row row) => $"{row.Key},{(row.Attempt < 0 ? "?" : row.Attempt)},{(row.BadCell ? "?" : "success")}\n";

    private static string RecordLine(Row row) =>
        $"{row.Key},{(row.BadKey && row.Key.Length > 0 ? "?" : "2024-01-31")},{(row.BadCell ? "?" : "97")},"
            + $"{(row.Deleted ? "deleted" : "")},{(row.Wide ? "success" : "")}\n";
}
