using Outcomes.Records;

namespace Outcomes.Tests;

public class ColumnTests
{
    [Fact]
    public void A_set_has_a_yes_no_column_a_value_in_the_order_of_its_values()
    {
        var columns = Column.Of(Shipped.Procedure("plans_verbalised"));
        Assert.Equal(["plans_verbalised_A", "plans_verbalised_B", "plans_verbalised_C", "plans_verbalised_D", "plans_verbalised_none"],
            columns.Select(column => column.Name));
        Assert.Equal(["A", "B", "C", "D", "none"], columns.Select(column => column.Value));
        Assert.All(columns, column => Assert.Equal("BOOLEAN", column.SqlType));
    }

    [Theory]
    [InlineData("record_id", "VARCHAR")]
    [InlineData("urgency", "VARCHAR")]
    [InlineData("fona_performed", "BOOLEAN")]
    [InlineData("spo2_min", "INTEGER")]
    [InlineData("event_time", "INTEGER")]
    [InlineData("weight_kg", "DOUBLE")]
    [InlineData("event_date", "DATE")]
    public void Every_other_field_has_one_column_of_its_own_name(string name, string sqlType)
    {
        var column = Assert.Single(Column.Of(Shipped.Procedure(name)));
        Assert.Equal((name, sqlType, null), (column.Name, column.SqlType, column.Value));
    }

    [Theory]
    [InlineData(FieldDictionary.Procedure)]
    [InlineData(FieldDictionary.Attempt)]
    public void No_two_columns_of_a_table_share_a_name(string table)
    {
        var names = FieldDictionary.Shipped.Of(table).SelectMany(field => Column.Of(field)).Select(column => column.Name).ToList();
        Assert.Equal(names.Count, names.Distinct(StringComparer.OrdinalIgnoreCase).Count());
    }
}
