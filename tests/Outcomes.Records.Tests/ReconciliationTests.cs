using CsCheck;
using Outcomes.Records;

namespace Outcomes.Tests;

public class ReconciliationTests
{
    private static readonly Gen<Reconciliation> Balanced =
        Gen.Select(Gen.Int[0, 1000], Gen.Int[0, 1000], Gen.Int[0, 1000], Gen.Int[0, 1000],
            (accepted, superseded, withdrawn, quarantined) =>
                new Reconciliation("a.csv", accepted + superseded + withdrawn + quarantined, accepted, superseded, withdrawn, quarantined));

    [Fact]
    public void Rows_in_are_the_sum_of_the_fates() => Balanced.Sample(file => file.Balances);

    [Fact]
    public void One_row_too_many_or_too_few_in_any_fate_shows()
    {
        Balanced.Sample(file =>
            !(file with { RowsIn = file.RowsIn + 1 }).Balances && !(file with { Accepted = file.Accepted + 1 }).Balances
            && !(file with { Superseded = file.Superseded + 1 }).Balances && !(file with { Withdrawn = file.Withdrawn + 1 }).Balances
            && !(file with { Quarantined = file.Quarantined + 1 }).Balances);
    }

    [Fact]
    public void The_total_adds_each_fate_and_balances_when_its_files_do()
    {
        var total = Reconciliation.Total([new("a.csv", 10, 7, 1, 1, 1), new("b.csv", 5, 3, 0, 0, 2)]);
        Assert.Equal(new Reconciliation("total", 15, 10, 1, 1, 3), total);
        Balanced.List[0, 5].Sample(files => Reconciliation.Total(files).Balances);
        Assert.Equal(new Reconciliation("total", 0, 0, 0, 0, 0), Reconciliation.Total([]));
    }

    [Fact]
    public void An_error_in_one_file_shows_in_the_total() =>
        Assert.False(Reconciliation.Total([new("a.csv", 10, 7, 1, 1, 1), new("b.csv", 5, 3, 0, 0, 1)]).Balances);
}
