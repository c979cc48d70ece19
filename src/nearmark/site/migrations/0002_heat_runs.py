"""Runs of heats by the clock, places in a heat, who has come."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("site", "0001_initial"),
    ]

    operations = [
        migrations.AddField(
            model_name="eventrecord",
            name="heat_places",
            field=models.PositiveSmallIntegerField(default=12),
        ),
        migrations.AddField(
            model_name="pairrecord",
            name="arrived_at",
            field=models.DateTimeField(null=True),
        ),
        migrations.CreateModel(
            name="HeatRun",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("heat", models.CharField(max_length=1000)),
                ("started_at", models.DateTimeField()),
                ("minutes", models.PositiveSmallIntegerField()),
                ("stopped_at", models.DateTimeField(null=True)),
                (
                    "event",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="heat_runs",
                        to="site.eventrecord",
                    ),
                ),
            ],
            options={
                "ordering": ["pk"],
                "constraints": [
                    models.UniqueConstraint(
                        condition=models.Q(("stopped_at", None)),
                        fields=("event",),
                        name="one_heat_at_a_time",
                    )
                ],
            },
        ),
    ]
