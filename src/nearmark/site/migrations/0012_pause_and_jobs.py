"""The clock pauses, helpers have a job, the public page may end at a place."""

from datetime import timedelta

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("site", "0011_shared_causes"),
    ]

    operations = [
        migrations.AddField(
            model_name="account",
            name="job",
            field=models.CharField(blank=True, default="", max_length=10),
        ),
        migrations.AddField(
            model_name="eventrecord",
            name="public_places",
            field=models.PositiveSmallIntegerField(null=True),
        ),
        migrations.AddField(
            model_name="heatrun",
            name="paused_at",
            field=models.DateTimeField(null=True),
        ),
        migrations.AddField(
            model_name="heatrun",
            name="paused_for",
            field=models.DurationField(default=timedelta),
        ),
        migrations.AddField(
            model_name="joincode",
            name="job",
            field=models.CharField(blank=True, default="", max_length=10),
        ),
    ]
