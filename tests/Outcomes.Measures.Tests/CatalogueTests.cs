using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Tests;

public sealed class CatalogueTests
{
    [Fact]
    public void Every_example_of_every_shipped_measure_and_rule_comes_out_as_it_says()
    {
        var failed = ExampleRunner.Run(FieldDictionary.Shipped, DerivedFile.Shipped, MeasureCatalogue.Shipped, RuleFile.Shipped);
        Assert.Empty(failed);
    }
}
