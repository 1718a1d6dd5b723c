using CsCheck;

namespace Outcomes.Tests.Ingestion;

internal static class Pick
{
    /// <summary>One of the values, each as likely as the others; a value named twice is twice as likely.</summary>
    public static Gen<T> From<T>(params T[] values) => Gen.Int[0, values.Length - 1].Select(i => values[i]);
}
